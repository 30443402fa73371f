package main

import (
	"bytes"
	"fmt"
	"os"
	"strings"
)

// file is a text that shows figures.
type file struct {
	path string
	text []byte
}

// The page's copy: one line a row, cells parted by tabs; a line "# name" opens
// a table, the next is "title<tab>command<tab>note", the next its head.
const pageTables = "app/page/proof.tsv"

// proofPage shows all tables, beside the results that were kept.
const proofPage = "testdata/proof/README.md"

// show returns the files that show the tables, as they should be.
func show(tables []table) ([]file, error) {
	page, err := os.ReadFile(proofPage)
	if err != nil {
		return nil, err
	}
	for _, t := range tables {
		page, err = between(page, t.name, t.markdown())
		if err != nil {
			return nil, fmt.Errorf("%s: %w", proofPage, err)
		}
	}
	return []file{{proofPage, page}, {pageTables, tsv(tables)}}, nil
}

// between puts text between the marks of a name.
func between(in []byte, name, text string) ([]byte, error) {
	from, to := []byte("<!-- proof:"+name+" -->\n"), []byte("<!-- end of proof:"+name+" -->")
	i, j := bytes.Index(in, from), bytes.Index(in, to)
	switch {
	case i < 0 && j < 0:
		return nil, fmt.Errorf("the table %q is not shown: put <!-- proof:%[1]s --> and <!-- end of proof:%[1]s --> where it belongs", name)
	case i < 0 || j < i:
		return nil, fmt.Errorf("marks of %q: one is missing or they are the wrong way round", name)
	}
	out := append([]byte{}, in[:i+len(from)]...)
	out = append(out, text...)
	return append(out, in[j:]...), nil
}

// tsv is the tables for the app's page.
func tsv(tables []table) []byte {
	var b bytes.Buffer
	line := func(cells []string) {
		for i, c := range cells {
			if i > 0 {
				b.WriteByte('\t')
			}
			b.WriteString(strings.NewReplacer("\t", " ", "\n", " ", "**", "").Replace(c))
		}
		b.WriteByte('\n')
	}
	for _, t := range tables {
		line([]string{"# " + t.name})
		line([]string{t.title, t.command, t.note})
		line(t.head)
		for _, r := range t.rows {
			line(r)
		}
	}
	return b.Bytes()
}
