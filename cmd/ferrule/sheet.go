package main

import (
	"flag"
	"fmt"
	"net/url"
	"os"
	"strings"

	"ferrule/core/pipeline"
	"ferrule/core/report"
	"ferrule/core/share"
	"ferrule/core/sheet"
	"ferrule/core/shot"
)

func init() { commands["sheet"] = runSheet }

// runSheet does the whole job on a shot file and writes the fitting sheet as
// one self-contained page, or as text.
func runSheet(args []string, std streams) int {
	fs := flag.NewFlagSet("sheet", flag.ContinueOnError)
	fs.SetOutput(std.err)
	var f fitFlags
	f.register(fs)
	f.registerAnew(fs)
	out := fs.String("o", "", "`SHEET.html` to write; - writes to standard output")
	names := fs.Bool("names", false, "print the player's name")
	plain := fs.Bool("text", false, "write the sheet as plain text instead of a page")
	base := fs.String("link", "", "print the link to the shared session and its code; `ADDRESS` of the app, such as https://example.org")
	date := fs.String("date", "", "date of the session as it is to be printed")
	rest, err := parseMixed(fs, args)
	if err != nil || len(rest) == 0 || *out == "" {
		fmt.Fprintln(std.err, "usage: ferrule sheet (FILE... | LINK) [-club CLUB.json] [-anew] [-aim AIM.json] [-names] [-date DATE] [-link ADDRESS] [-text] -o SHEET.html")
		return exitUsage
	}
	s, err := loadSession(rest, f, std)
	if err != nil {
		fmt.Fprintln(std.err, "ferrule sheet:", err)
		return exitInput
	}
	r, anew, err := s.answer(pipeline.Memory{}, f.seed)
	if err != nil {
		fmt.Fprintln(std.err, "ferrule sheet:", err)
		return exitInput
	}
	if r.Given {
		for _, l := range asGiven(r, anew, f.reader()) {
			fmt.Fprintln(std.err, l)
		}
	}
	link := ""
	if *base != "" {
		if link, err = sharedLink(*base, s.Session, r, *names); err != nil {
			fmt.Fprintln(std.err, "ferrule sheet:", err)
			return exitInput
		}
	}
	o := pipeline.SheetOptions(*names, link)
	o.Date = *date
	if link != "" && o.QR == "" {
		fmt.Fprintf(std.err, "ferrule sheet: the link has %d characters, too many for a code: only the link is printed\n", len(link))
	}
	page := ""
	if *plain {
		page = sheet.Plain(s.Session, r, f.reader(), o)
	} else {
		page = sheet.HTML(s.Session, r, f.reader(), o)
	}
	if *out == "-" {
		_, err = fmt.Fprint(std.out, page)
	} else {
		err = os.WriteFile(*out, []byte(page), 0o644)
	}
	if err != nil {
		fmt.Fprintln(std.err, "ferrule sheet:", err)
		return exitInput
	}
	return exitDone
}

// sharedLink is the link that opens session and report in the app at base.
func sharedLink(base string, s shot.Session, r report.Report, names bool) (string, error) {
	u, err := url.Parse(base)
	if err != nil || u.Host == "" || u.Scheme != "https" && u.Scheme != "http" || strings.Trim(u.Path, "/") != "" {
		return "", fmt.Errorf("-link %q: expected the address of the app without a folder, such as https://example.org", base)
	}
	given, err := share.GiveOf(r)
	if err != nil {
		return "", err
	}
	text, err := share.Encode(s, &given, share.Options{Names: names})
	if err != nil {
		return "", err
	}
	return u.Scheme + "://" + u.Host + "/shared#" + share.Prefix + text, nil
}
