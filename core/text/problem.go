package text

import (
	"sort"
	"strconv"
	"strings"
	"sync"
)

// A pattern finds the English sentence of an error or of a note on a file.
type pattern struct {
	key    string
	parts  []string // what stands around the places, one more than there are places
	places []int    // which place follows each part
	own    int      // [bytes] of all parts
}

var (
	patterns     []pattern
	patternsOnce sync.Once
)

// problems takes the words "problem." apart. The one with most words of its
// own is tried first, so that "read {0}, expected {1}" comes last.
func problems() []pattern {
	patternsOnce.Do(func() {
		for k, w := range english() {
			if !strings.HasPrefix(k, "problem.") {
				continue
			}
			p := pattern{key: k}
			for open := strings.IndexByte(w, '{'); open >= 0; open = strings.IndexByte(w, '{') {
				shut := open + strings.IndexByte(w[open:], '}')
				n, err := strconv.Atoi(w[open+1 : shut])
				if err != nil {
					panic("text: " + k + " is looked up by its words and can't count: " + w)
				}
				p.parts, p.places, p.own, w = append(p.parts, w[:open]), append(p.places, n), p.own+open, w[shut+1:]
			}
			p.parts, p.own = append(p.parts, w), p.own+len(w)
			patterns = append(patterns, p)
		}
		sort.Slice(patterns, func(i, j int) bool {
			a, b := patterns[i], patterns[j]
			return a.own > b.own || a.own == b.own && a.key < b.key
		})
	})
	return patterns
}

// find returns what stands in the places of a sentence, each as short as can
// be and none empty.
func (p pattern) find(sentence string) (args []string, ok bool) {
	rest, ok := strings.CutPrefix(sentence, p.parts[0])
	if !ok || len(p.places) == 0 {
		return nil, ok && rest == ""
	}
	args = make([]string, len(p.places))
	for i, n := range p.places {
		var end int
		if next := p.parts[i+1]; i+1 == len(p.places) {
			end = len(strings.TrimSuffix(rest, next))
			ok = strings.HasSuffix(rest, next)
		} else {
			end = strings.Index(rest, next)
		}
		if !ok || end < 1 || n >= len(args) {
			return nil, false
		}
		args[n], rest = rest[:end], rest[min(len(rest), end+len(p.parts[i+1])):]
	}
	return args, true
}

// Problem says in the reader's language what an error or a note on a file says
// in English. Errors are plain Go errors all through core; here, at the edge,
// their sentence is found again among the words "problem.", and what stands in
// its places is looked up likewise ("the club: read ..."). A sentence that is
// none of them comes back as it is.
func (r Reader) Problem(sentence string) string { return r.problem(sentence, 0) }

func (r Reader) problem(sentence string, depth int) string {
	for _, of := range []string{"quantity.", "role.", "kind."} { // what a column or a club is, by its key
		if depth == 0 && of != "quantity." {
			break
		}
		if _, ok := english()[of+sentence]; ok {
			return r.Fill(of + sentence)
		}
	}
	if r.Language == "en" || r.Language == "" || depth > 3 {
		return sentence
	}
	for _, p := range problems() {
		args, ok := p.find(sentence)
		if !ok {
			continue
		}
		for i := range args {
			args[i] = r.problem(args[i], depth+1)
		}
		return r.Fill(p.key, args...)
	}
	return sentence
}
