package main

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"sort"
	"strings"
)

// table is one subject of the proof.
type table struct {
	name, title, command string
	note                 string // what a reader must know of it
	head                 []string
	rows                 [][]string
}

// gather makes all tables from the code and files under root.
func gather(root string) ([]table, error) {
	var out []table
	for _, make := range []func(string) ([]table, error){flights, geometry, statistics, players, roughs, machine} {
		ts, err := make(root)
		if err != nil {
			return nil, err
		}
		out = append(out, ts...)
	}
	return out, nil
}

// markdown is the table with its command.
func (t table) markdown() string {
	var b strings.Builder
	fmt.Fprintf(&b, "**%s** (`%s`)", t.title, t.command)
	if t.note != "" {
		b.WriteString(": " + t.note)
	}
	b.WriteString("\n\n| " + strings.Join(t.head, " | ") + " |\n|" + strings.Repeat(" --- |", len(t.head)) + "\n")
	for _, r := range t.rows {
		b.WriteString("| " + strings.Join(r, " | ") + " |\n")
	}
	return b.String()
}

// source of a case, by its id: what the case files say.
type source struct{ text, status string }

// sources reads id, source and status of a case file.
func sources(path string) (map[string]source, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	at := map[string]int{}
	for i, name := range rows[0] {
		at[name] = i
	}
	out := map[string]source{}
	for _, r := range rows[1:] {
		s := source{text: r[at["source"]], status: r[at["status"]]}
		if _, twice := out[r[0]]; !twice {
			out[r[0]] = s
		}
	}
	return out, nil
}

// digits is v with three decimals at most four digits: what differs between
// processors (fused multiply-add) is far below.
func digits(v float64) string {
	switch a := math.Abs(v); {
	case a < .0005:
		return "0" // and never a -0 of one processor
	case a < 10:
		return fmt.Sprintf("%.3f", v)
	case a < 100:
		return fmt.Sprintf("%.2f", v)
	}
	return fmt.Sprintf("%.1f", v)
}

func within(ok bool) string {
	if ok {
		return "yes"
	}
	return "**no**"
}

// flights are the published and practice cases and the measured drives.
func flights(root string) ([]table, error) {
	rows, err := collect(root, "./core/flight", "TestMeasuredDrives")
	if err != nil {
		return nil, err
	}
	known, err := collect(root, "./cmd/ferrule", "TestFlightCases")
	if err != nil {
		return nil, err
	}
	rows = append(rows, known...)
	src, err := sources(filepath.Join(root, "testdata/flight/cases.csv"))
	if err != nil {
		return nil, err
	}
	cases := table{name: "flight", title: "Flight, published and practice cases", command: "ferrule fly -cases",
		note: "nothing was tuned to them; misses stay in, with their reason",
		head: []string{"case", "quantity", "published", "Ferrule", "within", "source"}}
	drives := table{name: "drives", title: "Flight, 183 measured drives", command: "go test ./core/flight -run TestMeasuredDrives -v",
		note: "open data, weather unknown, nothing tuned to them",
		head: []string{"ball", "balls", "quantity", "bias", "median miss", "rms"}}
	for _, r := range rows {
		if r.kind == "spread" {
			drives.rows = append(drives.rows, append([]string{r.what}, r.rest...))
			continue
		}
		id, quantity, _ := strings.Cut(r.what, " ")
		s := src[id].text + " (" + src[id].status + ")"
		if len(r.rest) > 0 && r.rest[0] != "" {
			s += "; " + r.rest[0]
		}
		cases.rows = append(cases.rows, []string{id, quantity, digits(r.want) + " ± " + fmt.Sprint(r.tol), digits(r.got), within(r.off() <= 1), s})
	}
	if len(cases.rows) == 0 || len(drives.rows) == 0 {
		return nil, fmt.Errorf("core/flight and cmd/ferrule logged %d cases and %d spreads", len(cases.rows), len(drives.rows))
	}
	return []table{cases, drives}, nil
}

// geometry are the cases of sleeve, lie, rules and impact: of each the
// comparison that comes nearest to its tolerance.
func geometry(root string) ([]table, error) {
	rows, err := collect(root, "./core/impact", "TestEveryCase")
	if err != nil {
		return nil, err
	}
	src, err := sources(filepath.Join(root, "testdata/impact/cases.csv"))
	if err != nil {
		return nil, err
	}
	t := table{name: "impact", title: "Impact, sleeve geometry, rules", command: "go test ./core/impact -run TestEveryCase -v",
		note: "of each case the comparison that comes nearest to its tolerance",
		head: []string{"case", "compared", "nearest", "published", "Ferrule", "within", "source"}}
	for _, g := range grouped(rows) {
		id := g.test[strings.LastIndex(g.test, "/")+1:]
		w := g.worst()
		t.rows = append(t.rows, []string{id, fmt.Sprint(len(g.rows)), w.what, digits(w.want), digits(w.got), within(w.off() <= 1), src[id].text + " (" + src[id].status + ")"})
	}
	return []table{t}, nil
}

// group is what one test compared.
type group struct {
	test string
	rows []row
}

func grouped(rows []row) []group {
	var out []group
	for _, r := range rows {
		if n := len(out); n > 0 && out[n-1].test == r.test {
			out[n-1].rows = append(out[n-1].rows, r)
			continue
		}
		out = append(out, group{r.test, []row{r}})
	}
	return out
}

// worst is the row nearest to its tolerance or farthest beyond it; the first
// of rows that differ by less than processors do.
func (g group) worst() row {
	w := g.rows[0]
	for _, r := range g.rows {
		if r.off() > w.off()+.02 {
			w = r
		}
	}
	return w
}

// reference is a test against another program or certified values, with what
// it compares to.
type reference struct{ pkg, test, subject, source string }

// references are those of air and statistics.
var references = []reference{
	{"./core/air", "TestStandardAtmosphere", "standard atmosphere: pressure, density, viscosity", "fluids: U.S. Standard Atmosphere 1976"},
	{"./core/air", "TestMoistAir", "density of moist air", "iapws: IAPWS G8-10, IF97"},
	{"./core/bayes", "TestLeastSquaresOfNIST", "least squares: Longley, Wampler4, Norris", "NIST StRD, certified values"},
	{"./core/bayes", "TestOneWayOfNIST", "one-way analysis of variance: SiRstv, AtmWtAg, SmLs01, 04, 07; a handbook example", "NIST StRD, certified values; NIST/SEMATECH handbook 7.4.2.4"},
	{"./core/bayes", "TestConjugateKnownSigma", "conjugate linear model, known spread", "numpy, scipy"},
	{"./core/bayes", "TestNormalInverseGamma", "normal-inverse-gamma model", "numpy, scipy"},
	{"./core/bayes", "TestStudentTWeights", "Student-t regression, nu 4", "scipy"},
	{"./core/bayes", "TestRandomInterceptsOfLme4", "random intercepts by REML", "R, lme4"},
	{"./core/bayes", "TestAdditiveLeastSquaresOfR", "additive least squares, an untested setting", "R"},
	{"./core/decide", "TestTukeyAndDunnett", "simultaneous quantiles", "R: quadrature; mvtnorm"},
	{"./core/decide", "TestEllipseFactors", "ellipses of a mean, the next ball, a share of balls", "R"},
	{"./core/decide", "TestBrownForsythe", "spreads of groups compared: Brown-Forsythe", "R"},
	{"./core/decide", "TestBallsNeeded", "balls needed", "R"},
	{"./core/decide", "TestKnowledgeGradient", "knowledge gradient", "scipy, quadrature"},
	{"./core/score", "TestBaselineIsTheTable", "strokes by distance and lie", "Broadie 2012, table 9 (verified second-hand); interpolation by numpy"},
}

// flights by another program's solver.
var flights853 = reference{"./core/flight", "TestDOP853", "flights, at the shipped and at a fine step", "scipy, DOP853"}

// compared runs the tests against other programs in dir, one group a test.
func compared(dir string, references []reference) (map[string]group, error) {
	patterns := map[string][]string{}
	for _, r := range references {
		patterns[r.pkg] = append(patterns[r.pkg], r.test)
	}
	out := map[string]group{}
	var pkgs []string
	for pkg := range patterns {
		pkgs = append(pkgs, pkg)
	}
	sort.Strings(pkgs)
	for _, pkg := range pkgs {
		rows, err := collect(dir, pkg, "^("+strings.Join(patterns[pkg], "|")+")$")
		if err != nil {
			return out, err
		}
		for _, r := range rows {
			test, _, _ := strings.Cut(r.test, "/")
			g := out[test]
			g.test, g.rows = test, append(g.rows, r)
			out[test] = g
		}
	}
	return out, nil
}

// statistics are the goldens of other programs: how many values, and the one
// that comes nearest to its tolerance.
func statistics(root string) ([]table, error) {
	by, err := compared(root, references)
	if err != nil {
		return nil, err
	}
	t := table{name: "statistics", title: "Air and statistics against other programs and certified values", command: "go test ./core/air ./core/bayes ./core/decide ./core/score -v; make crosscheck reruns the other programs",
		head: []string{"subject", "values", "all within", "reference", "test"}}
	for _, r := range references {
		g := by[r.test]
		if len(g.rows) == 0 {
			t.rows = append(t.rows, []string{r.subject, "0", "not logged", r.source, r.test})
			continue
		}
		loosest := 0.
		for _, x := range g.rows {
			loosest = math.Max(loosest, x.tol)
		}
		t.rows = append(t.rows, []string{r.subject, fmt.Sprint(len(g.rows)), fmt.Sprintf("%.0e", loosest), r.source, r.test})
	}
	return []table{t}, nil
}
