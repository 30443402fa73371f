package spoken

import (
	"slices"
	"strconv"
)

// measure reads a number and the unit after it.
func measure(t []token) (number, unit string, ok bool) {
	if n := len(t); n > 0 && (t[n-1].means == yards || t[n-1].means == metres) {
		t, unit = t[:n-1], t[n-1].means
	}
	number, ok = decimal(t)
	return number, unit, ok
}

// decimal reads a number with its decimals, which are said digit by digit.
func decimal(t []token) (string, bool) {
	if len(t) == 1 && t[0].means == literal {
		return t[0].text, true
	}
	for i, x := range t {
		if x.means != point {
			continue
		}
		n, ok := whole(t[:i])
		d, ok2 := decimals(t[i+1:])
		return strconv.Itoa(n) + "." + d, ok && ok2
	}
	n, ok := whole(t)
	return strconv.Itoa(n), ok
}

// decimals are one digit or two.
func decimals(t []token) (out string, ok bool) {
	if len(t) == 0 || len(t) > 2 {
		return "", false
	}
	for _, x := range t {
		if !x.single() {
			return "", false
		}
		out += strconv.Itoa(x.n)
	}
	return out, true
}

// whole reads a number below a thousand: digit by digit, "two forty five", or in
// full.
func whole(t []token) (int, bool) {
	switch {
	case len(t) == 1 && t[0].means == literal:
		n, err := strconv.Atoi(t[0].text)
		return n, err == nil
	case len(t) > 1 && !slices.ContainsFunc(t, func(x token) bool { return !x.single() }):
		n := 0
		for _, x := range t {
			n = 10*n + x.n
		}
		return n, len(t) <= 3 && t[0].n > 0
	}
	h, rest := hundreds(t)
	if h > 0 && len(rest) == 0 {
		return h, true
	}
	if h > 0 && len(rest) > 1 && (rest[0].means == join || rest[0].means == swap) {
		rest = rest[1:]
	}
	if n, ok := below100(rest); ok {
		return h + n, true
	}
	if len(t) > 1 && t[0].single() && t[0].n > 0 { // "two forty five"
		if n, ok := below100(t[1:]); ok && n >= 10 && !slices.ContainsFunc(t, func(x token) bool { return x.means == times10 }) {
			return 100*t[0].n + n, true
		}
	}
	return 0, false
}

// hundreds reads the hundreds at the head of a number, 0 where there are none.
func hundreds(t []token) (n int, rest []token) {
	switch {
	case len(t) > 1 && t[0].single() && t[0].n > 0 && t[1].means == times100:
		return 100 * t[0].n, t[2:]
	case len(t) > 0 && t[0].means == times100:
		return 100, t[1:]
	case len(t) > 0 && t[0].means == "100":
		return t[0].n, t[1:]
	}
	return 0, t
}

// below100 reads a number of one or two digits in full.
func below100(t []token) (int, bool) {
	shape := ""
	for _, x := range t {
		switch x.means {
		case "1":
			shape += "1"
		case "11":
			shape += "t"
		case "20":
			shape += "T"
		case times10:
			shape += "x"
		case join, swap:
			shape += x.means
		default:
			return 0, false
		}
	}
	switch shape {
	case "1", "t", "T": // five, twelve, forty
		return t[0].n, true
	case "T1": // forty five
		return t[0].n + t[1].n, t[0].n%10 == 0 && t[1].n > 0
	case "T+1", "T&1", "t+1": // cuarenta y cinco, diez y seis
		return t[0].n + t[2].n, t[0].n%10 == 0 && t[2].n > 0
	case "1&T": // fünfundvierzig
		return t[2].n + t[0].n, t[2].n%10 == 0 && t[0].n > 0
	case "x": // 十
		return 10, true
	case "1x": // 二十
		return 10 * t[0].n, t[0].n > 0
	case "x1": // 十五
		return 10 + t[1].n, t[1].n > 0
	case "1x1": // 四十五
		return 10*t[0].n + t[2].n, t[0].n > 0 && t[2].n > 0
	}
	return 0, false
}
