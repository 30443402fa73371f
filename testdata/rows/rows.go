// Package rows reads the tables of cases that tests compare with.
package rows

import (
	"encoding/csv"
	"os"
	"testing"
)

// Read returns the rows of a CSV file, the header first; lines that begin with
// # are comments. A file that can't be read or has nothing below its header
// ends the test.
func Read(t testing.TB, path string) [][]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	if len(all) < 2 {
		t.Fatalf("%s: read %d rows, expected a header and cases", path, len(all))
	}
	return all
}
