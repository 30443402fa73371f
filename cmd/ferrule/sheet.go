package main

import (
	"flag"
	"fmt"
	"os"

	"ferrule/core/pipeline"
	"ferrule/core/sheet"
)

func init() { commands["sheet"] = runSheet }

// runSheet does the whole job on a shot file and writes the fitting sheet as
// one self-contained page, or as text.
func runSheet(args []string, std streams) int {
	fs := flag.NewFlagSet("sheet", flag.ContinueOnError)
	fs.SetOutput(std.err)
	var f fitFlags
	f.register(fs)
	out := fs.String("o", "", "`SHEET.html` to write; - writes to standard output")
	names := fs.Bool("names", false, "print the player's name")
	plain := fs.Bool("text", false, "write the sheet as plain text instead of a page")
	date := fs.String("date", "", "date of the session as it is to be printed")
	rest, err := parseMixed(fs, args)
	if err != nil || len(rest) != 1 || *out == "" {
		fmt.Fprintln(std.err, "usage: ferrule sheet FILE -club CLUB.json [-aim AIM.json] [-names] [-date DATE] [-text] -o SHEET.html")
		return exitUsage
	}
	s, err := loadSession(rest[0], f, std)
	if err != nil {
		fmt.Fprintln(std.err, "ferrule sheet:", err)
		return exitInput
	}
	r, err := pipeline.Analyse(s, f.seed, nil)
	if err != nil {
		fmt.Fprintln(std.err, "ferrule sheet:", err)
		return exitInput
	}
	o := sheet.Options{Names: *names, Date: *date}
	page := ""
	if *plain {
		page = sheet.Plain(s, r, f.reader(), o)
	} else {
		page = sheet.HTML(s, r, f.reader(), o)
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
