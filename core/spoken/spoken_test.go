package spoken

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"ferrule/core/seed"
	"ferrule/core/text"
)

func words(l text.Language) string { return text.Said(l) }

// TestEveryNumber: 0 to 400 as Unicode's rules spell them, which are no part of this
// program, in every language, as digits and digit by digit.
func TestEveryNumber(t *testing.T) {
	file, err := os.ReadFile("../../testdata/spoken/numbers.tsv")
	if err != nil {
		t.Fatal(err)
	}
	seen := map[text.Language]map[string]bool{}
	for _, line := range strings.Split(strings.TrimSpace(string(file)), "\n")[1:] {
		f := strings.Split(line, "\t")
		l := text.Language(f[0])
		if seen[l] == nil {
			seen[l] = map[string]bool{}
		}
		seen[l][f[1]] = true
		for _, said := range []string{f[2], strings.ToUpper(f[2]), " " + f[2] + ". "} {
			is(t, l, said, Ball{Carry: f[1]})
		}
	}
	for _, l := range text.Languages {
		if len(seen[l]) != 401 {
			t.Errorf("%s: %d of 401 numbers are spelled", l, len(seen[l]))
		}
		one := digitWords(l)
		for n := range 401 {
			s := strconv.Itoa(n)
			is(t, l, s, Ball{Carry: s})
			var each, apart []string
			for _, d := range s {
				each, apart = append(each, one[d-'0']), append(apart, string(d))
			}
			is(t, l, strings.Join(each, " "), Ball{Carry: s})
			is(t, l, strings.Join(apart, " "), Ball{Carry: s})
		}
	}
}

// digitWords are the first words of 0 to 9 in the table.
func digitWords(l text.Language) (out [10]string) {
	for _, line := range strings.Split(words(l), "|") {
		f := strings.Fields(line)
		if n, err := strconv.Atoi(f[0]); err == nil && n < 10 {
			out[n] = f[1]
		}
	}
	return out
}

func is(t *testing.T, l text.Language, said string, want Ball) {
	t.Helper()
	if got, ok := Read(said, words(l)); !ok || got != want {
		t.Errorf("%s %q: read as %+v %v, want %+v", l, said, got, ok, want)
	}
}

// TestBothNumbers: every carry with a side, spelled and as digits, on both sides.
func TestBothNumbers(t *testing.T) {
	file, err := os.ReadFile("../../testdata/spoken/numbers.tsv")
	if err != nil {
		t.Fatal(err)
	}
	spelled := map[text.Language]map[string][]string{}
	for _, line := range strings.Split(strings.TrimSpace(string(file)), "\n")[1:] {
		f := strings.Split(line, "\t")
		l := text.Language(f[0])
		if spelled[l] == nil {
			spelled[l] = map[string][]string{}
		}
		spelled[l][f[1]] = append(spelled[l][f[1]], f[2])
	}
	sides := map[text.Language][2]string{"en": {"left", "right"}, "de": {"links", "rechts"}, "es": {"a la izquierda", "derecha"}, "ja": {"左に", "右"}, "ko": {"왼쪽", "오른쪽으로"}}
	rng := seed.Seed(7).Stream("spoken")
	split, whole := 0, 0
	for _, l := range text.Languages {
		for n := 50; n <= 400; n++ {
			carry, side := strconv.Itoa(n), strconv.Itoa(rng.IntN(40))
			right := rng.IntN(2)
			want := Ball{Carry: carry, Side: side, Left: right == 0, Right: right == 1}
			cw, sw := spelled[l][carry], spelled[l][side]
			c, s := cw[rng.IntN(len(cw))], sw[rng.IntN(len(sw))]
			is(t, l, c+" "+sides[l][right]+" "+s, want)
			is(t, l, carry+" "+sides[l][right]+" "+side, want)
			is(t, l, carry+" "+side+" "+sides[l][right], want)
			// Without a word between them they are told apart or asked again, never mixed up.
			whole++
			if got, ok := Read(c+" "+s+" "+sides[l][right], words(l)); ok {
				split++
				if got != want {
					t.Errorf("%s: %q %q is read as %+v", l, c, s, got)
				}
			}
		}
	}
	t.Logf("%d of %d pairs without a word between them were told apart, none wrongly", split, whole)
}

func TestWaysOfSaying(t *testing.T) {
	for _, c := range []struct {
		l    text.Language
		said string
		want Ball
	}{
		{"en", "two four five right twelve", Ball{Carry: "245", Side: "12", Right: true}},
		{"en", "Two forty-five, twelve left.", Ball{Carry: "245", Side: "12", Left: true}},
		{"en", "two oh five straight", Ball{Carry: "205", Side: "0"}},
		{"en", "carry 245.5 yards right 12 yards", Ball{Carry: "245.5", CarryUnit: "yd", Side: "12", SideUnit: "yd", Right: true}},
		{"en", "two twelve point five left three point two", Ball{Carry: "212.5", Side: "3.2", Left: true}},
		{"en", "a hundred and ninety", Ball{Carry: "190"}},
		{"en", "two four five seven right", Ball{Carry: "245", Side: "7", Right: true}},
		{"en", "245 12", Ball{Carry: "245", Side: "12"}},
		{"de", "245 links 12", Ball{Carry: "245", Side: "12", Left: true}},
		{"de", "zwei fünfundvierzig rechts zwölf Komma fünf", Ball{Carry: "245", Side: "12.5", Right: true}},
		{"de", "hundertundneunzig Meter nach links drei Meter", Ball{Carry: "190", CarryUnit: "m", Side: "3", SideUnit: "m", Left: true}},
		{"de", "212,5 gerade", Ball{Carry: "212.5", Side: "0"}},
		{"de", "dreissig", Ball{Carry: "30"}},
		{"es", "doscientos cuarenta y cinco yardas a la derecha doce", Ball{Carry: "245", CarryUnit: "yd", Side: "12", Right: true}},
		{"es", "diez y seis", Ball{Carry: "16"}},
		{"ja", "２４５ヤード右１２", Ball{Carry: "245", CarryUnit: "yd", Side: "12", Right: true}},
		{"ja", "二百四十五点五、左に五", Ball{Carry: "245.5", Side: "5", Left: true}},
		{"ko", "이백사십오 야드 오른쪽으로 십이", Ball{Carry: "245", CarryUnit: "yd", Side: "12", Right: true}},
		{"ko", "이백사십오점오 왼쪽 열두", Ball{Carry: "245.5", Side: "12", Left: true}},
	} {
		is(t, c.l, c.said, c.want)
	}
}

// What can be read in two ways, or not whole, is not read.
func TestNotUnderstood(t *testing.T) {
	for l, all := range map[text.Language][]string{
		"en": {"", "what a drive", "two four five right", "right", "twelve right", "left twelve right", "2451", "1234.5", "two hundred and", "oh five", "two one one two right",
			"245 right twelve point", "12.345", "straight twelve", "two four five twelve", "245 12 5", "hundred hundred", "245 write 12", "twenty twelve three"},
		"de": {"links", "zwei und", "245 links 12 rechts", "fünfundvierundzwanzig"},
		"es": {"cien doscientos", "y cinco"},
		"ja": {"右に", "二十百", "245 右に に"},
		"ko": {"십십", "왼쪽"},
	} {
		for _, said := range all {
			if got, ok := Read(said, words(l)); ok {
				t.Errorf("%s %q is read as %+v", l, said, got)
			}
		}
	}
}

// TestAnyWords puts words of a language together at random: what comes out is a
// number that a key pad takes, or nothing, and never a panic.
func TestAnyWords(t *testing.T) {
	rng := seed.Seed(11).Stream("spoken")
	understood := 0
	for _, l := range text.Languages {
		all := strings.Fields(strings.ReplaceAll(words(l), "|", " "))
		for range 20_000 {
			said := ""
			for range 1 + rng.IntN(7) {
				said += all[rng.IntN(len(all))] + " "
			}
			b, ok := Read(said, words(l))
			if !ok {
				if b != (Ball{}) {
					t.Fatalf("%s %q: %+v, and not understood", l, said, b)
				}
				continue
			}
			understood++
			for _, n := range []string{b.Carry, b.Side} {
				if v, err := strconv.ParseFloat(n, 64); n != "" && (err != nil || v < 0 || v >= 1000) {
					t.Fatalf("%s %q: %+v", l, said, b)
				}
			}
			if b.Carry == "" || b.Left && b.Right || (b.Left || b.Right) && b.Side == "" {
				t.Fatalf("%s %q: %+v", l, said, b)
			}
		}
	}
	t.Logf("%d of %d rows of words were understood", understood, 20_000*len(text.Languages))
}
