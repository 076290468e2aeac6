package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"loomsheet/harness/diag"
	"loomsheet/render"
	"loomsheet/render/export"
)

func buildCommand() *cobra.Command {
	format := formatFlag("text")
	var dir string
	c := &cobra.Command{
		Use:   "build FILE",
		Short: "Check a job and write its books",
		Long: `build checks a job and writes into a folder: bench-SECTION.pdf for each section, board-SECTION.pdf and boards/SECTION.svg (its
forming board at full size, to be joined from sheets, or for a plotter), shell.pdf, lid.pdf (the fuse
chart, of a job with fuses), review.pdf, templates/*.svg and *.dxf (the drill templates at full size, for a laser or a plotter),
tables/*.csv and harness.json. While a finding is open or a check was not run, all books but the review book say "not for build" on each
page. A job whose text has mistakes gets no books.

In the name of a bench book or a template whatever may not stand in a file's name everywhere is written _, and eight more digits keep it apart from
others: section a/b gets bench-a_b-c14cddc0.pdf. So do two sections that differ only in capital letters. The program replaces and removes
nothing in the folder but what an earlier build wrote and nobody changed since, and follows no link out of it. All files are written aside
first and moved into place together; while UNFINISHED.txt stands beside them, that was cut short.`,
		Example: "  loomsheet build car.loom -o books",
		RunE: func(c *cobra.Command, args []string) error {
			j, err := open(args[0], c.ErrOrStderr())
			if err != nil {
				return err
			}
			if j.Result == nil {
				if err := j.tell(c.OutOrStdout(), format, false); err != nil {
					return err
				}
				return openError{}
			}
			books, err := j.write(dir, c.ErrOrStderr())
			if err != nil {
				return err
			}
			if err := j.tell(c.OutOrStdout(), format, false); err != nil {
				return err
			}
			if format == "text" {
				fmt.Fprintf(c.OutOrStdout(), "Books in %s: %s.\n", dir, names(books))
			}
			return j.status()
		},
		ValidArgsFunction: loomFiles,
	}
	c.Flags().Var(&format, "format", "how to print the messages: text or json")
	c.Flags().StringVarP(&dir, "output", "o", "out", "folder for the books")
	return c
}

// write makes the books, each written aside as it comes, and moves them into the folder when all are there. It gives their names.
func (j *job) write(dir string, errs io.Writer) (books []string, err error) {
	defer progress(errs, "writing the books")()
	in := j.input()
	j.letGo() // the books let go of the rest as they come
	into, err := openFolder(dir, in.Digest)
	if err != nil {
		return nil, err
	}
	defer onStop(into.stop)()
	defer into.drop()
	books, err = render.Each(in, func(f render.File) error { return into.add(f.Name, f) })
	if err != nil {
		return nil, err
	}
	return books, into.done(books)
}

// input is the job as the books see it.
func (j *job) input() export.Input {
	position := j.files().Finder()
	return export.Input{Result: j.Result, Messages: j.messages(), Digest: j.Sources.Digest()[:12], Locate: func(s diag.Span) string {
		if s.IsZero() {
			return ""
		}
		at, ok := position(s.File.String(), int(s.Start))
		if !ok {
			return s.File.String()
		}
		return fmt.Sprintf("%s:%d:%d", s.File, at.Line, at.Column)
	}}
}

// names lists the books and harness.json and counts templates and tables, which are many and small.
func names(books []string) string {
	var out []string
	sheets, other, plots := 0, 0, 0
	for _, f := range books {
		switch {
		case strings.HasPrefix(f, "tables/"):
			other++
		case strings.HasPrefix(f, "templates/"):
			sheets++
		case strings.HasPrefix(f, "boards/"):
			plots++
		default:
			out = append(out, f)
		}
	}
	if plots > 0 {
		out = append(out, count(plots, "board")+" as SVG")
	}
	if sheets > 0 {
		out = append(out, count(sheets/2, "drill template")+" as SVG and DXF")
	}
	return strings.Join(out, ", ") + " and " + count(other, "table")
}
