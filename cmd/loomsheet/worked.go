package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"loomsheet/harness/diag"
	"loomsheet/harness/worked"
)

func workedCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "worked FILE WIRE...",
		Short: "The whole calculation of a wire, line by line",
		Long: `worked prints how a wire was sized and judged: each line its formula, its numbers with where they come from (file and line, or a
document), the result, the limit and the room. A pocket calculator can redo each line from what it prints.

A wire is named as in the books (circuit, then its two ends), or by its label; a circuit's name prints all its wires.`,
		Example: `  loomsheet worked car.loom pump-feed                          all wires of a circuit
  loomsheet worked car.loom pump-feed.2                        a label
  loomsheet worked car.loom "pump-feed main-fuses.pump - T"    a wire by its name`,
		RunE: func(c *cobra.Command, args []string) error {
			j, err := open(args[0], c.ErrOrStderr())
			if err != nil {
				return err
			}
			if j.Result == nil {
				if err := j.tell(c.OutOrStdout(), "text", false); err != nil {
					return err
				}
				return j.status()
			}
			var wires []int
			for _, name := range args[1:] {
				found := worked.Find(j.Net, name)
				if len(found) == 0 {
					return j.noWire(name)
				}
				wires = append(wires, found...)
			}
			m := &worked.Model{Job: j.Job, Net: j.Net, Sizes: j.Sizes, Cases: j.Cases, Heat: j.Heat, Protect: j.Protect, Contact: j.Contact, Fit: j.Fit}
			at := j.place()
			for _, w := range wires {
				printSheet(c.OutOrStdout(), worked.Of(m, w), at)
			}
			return nil
		},
		ValidArgsFunction: wireNames,
	}
}

// noWire says that a name is none of a wire, with what it may have meant.
func (j *job) noWire(name string) error {
	err := fmt.Errorf("there is no wire, label or circuit %q", name)
	var names []string
	for i := range j.Net.Wires {
		w := &j.Net.Wires[i]
		names = append(names, w.Name, w.Label, w.Circuit)
	}
	if near := diag.Nearest(name, names); len(near) > 0 {
		slices.Sort(near)
		err = fmt.Errorf("%w; did you mean %s?", err, strings.Join(slices.Compact(near), ", "))
	}
	return err
}

// place turns a span into file:line.
func (j *job) place() func(diag.Span) string {
	files := j.files()
	return func(s diag.Span) string {
		text, ok := files[s.File.String()]
		if s.IsZero() || !ok || int(s.Start) > len(text) {
			return ""
		}
		return fmt.Sprintf("%s:%d", s.File, 1+strings.Count(string(text[:s.Start]), "\n"))
	}
}

func printSheet(w io.Writer, s *worked.Sheet, at func(diag.Span) string) {
	title := "Wire " + s.Name
	if s.Label != "" {
		title += ", label " + s.Label
	}
	if p := at(s.Span); p != "" {
		title += ", " + p
	}
	fmt.Fprintf(w, "%s\nSize decided by: %s\n", title, s.Decided)
	for _, p := range s.Parts {
		fmt.Fprintf(w, "\n%s\n", p.Title)
		for i := range p.Lines {
			printLine(w, &p.Lines[i], at)
		}
	}
	fmt.Fprintln(w)
}

func printLine(w io.Writer, l *worked.Line, at func(diag.Span) string) {
	head := fmt.Sprintf("%3d  %s", l.Number, l.What)
	if l.Unverified {
		head += " (not verified)"
	}
	fmt.Fprintln(w, head)
	if l.Formula != "" {
		fmt.Fprintf(w, "       %s\n", l.Formula)
	}
	for _, i := range l.Inputs {
		text := i.Value
		if i.Name != "" {
			text = i.Name + " = " + i.Value
		}
		source := i.Source
		if p := at(i.Span); p != "" {
			source = strings.TrimPrefix(source+", "+p, ", ")
		}
		fmt.Fprintf(w, "       %-22s %s\n", text, source)
	}
	if l.Result != "" {
		fmt.Fprintf(w, "       -> %s", l.Result)
		if l.Limit != "" {
			verdict := "met"
			if !l.Met {
				verdict = "NOT MET"
			}
			fmt.Fprintf(w, "; %s; room %s: %s", l.Limit, l.Room, verdict)
		}
		fmt.Fprintln(w)
	}
	if l.Note != "" {
		fmt.Fprintf(w, "       %s\n", l.Note)
	}
}
