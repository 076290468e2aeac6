package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"loomsheet/harness/net"
	"loomsheet/lang/freeze"
	"loomsheet/lang/syntax"
)

// frozen is what a person asks to be frozen.
type frozen struct {
	file         string
	wires, holes bool
}

func freezeCommand() *cobra.Command {
	var f frozen
	c := &cobra.Command{
		Use:   "freeze FILE",
		Short: "Write the cavities, wire labels, places of splices and holes decided so far into a file of the job",
		Long: `freeze writes what the program chose as statements of the language, marked with the job's revision: every cavity and label, the place of every
splice, and every hole, stud and cut-out with its place. From then on they never move. Lines that the file holds already stay as they are; new ones are added at
its end. The job must include the file.`,
		Example: "  loomsheet freeze car.loom                 writes car-frozen.loom beside it\n  loomsheet freeze car.loom --holes         before paint: only holes and studs\n  loomsheet freeze car.loom -o copper.loom",
		RunE: func(c *cobra.Command, args []string) error {
			if !f.wires && !f.holes {
				f.wires, f.holes = true, true
			}
			return f.write(args[0], c.OutOrStdout(), c.ErrOrStderr())
		},
		ValidArgsFunction: loomFiles,
	}
	c.Flags().StringVarP(&f.file, "output", "o", "", "name of the file, beside the job (FILE-frozen.loom)")
	c.Flags().BoolVar(&f.wires, "wires", false, "only cavities, labels and splices")
	c.Flags().BoolVar(&f.holes, "holes", false, "only holes, studs and cut-outs")
	return c
}

func (f *frozen) write(job string, out, errs io.Writer) error {
	j, err := open(job, errs)
	if err != nil {
		return err
	}
	if j.Result == nil {
		if err := j.tell(errs, "text", false); err != nil {
			return err
		}
		return openError{}
	}
	revision := j.Job.Revision
	if revision == "" {
		return fmt.Errorf("the job has no revision; write it after its title: harness \"%s\" revision A", j.Job.Title)
	}
	name := f.file
	if name == "" {
		name = strings.TrimSuffix(filepath.Base(job), ".loom") + "-frozen.loom"
	}
	if filepath.Base(name) != name {
		return fmt.Errorf("%s: give a name only, the file lies beside the job", name)
	}
	path := filepath.Join(filepath.Dir(job), name)
	if filepath.Base(job) == name {
		return fmt.Errorf("%s is the job itself", name)
	}
	old, err := readFile(path)
	if err != nil && !errors.Is(err, errNotThere) {
		return fmt.Errorf("cannot read %s: %v", path, err)
	}
	_, included := j.Sources.Text(name)
	if len(old) > 0 && !included {
		return fmt.Errorf("%s is there already and the job does not include it", path)
	}
	var added []byte
	var n freeze.Count
	var stated, late []string
	if f.wires {
		added, n = freeze.Wires(net.Freeze(j.Net, j.Job), revision)
	}
	if f.holes {
		text, holes, s, l := freeze.Holes(j.Shell.Decisions, revision)
		added, n.Holes, stated = append(added, text...), holes.Holes, s
		late = l
	}
	if n.All() > 0 {
		text := bytes.TrimRight(slices.Clone(old), "\n")
		if len(text) > 0 {
			text = append(text, '\n')
		}
		if _, msgs := syntax.Parse(name, added); len(msgs) > 0 {
			return fmt.Errorf("nothing was written: a decision cannot be put into words: %s", msgs[0].Title)
		}
		if err := j.same(filepath.Dir(job)); err != nil {
			return err
		}
		if err := replace(errs, path, old, append(text, added...)); err != nil {
			return err
		}
	}
	f.tell(out, n, revision, path)
	if len(stated) > 0 {
		fmt.Fprintf(out, "Stated by hand and not frozen: %s. Add `frozen %s` to these lines once they are drilled.\n", strings.Join(stated, ", "), revision)
	}
	if len(late) > 0 {
		is := "are"
		if len(late) == 1 {
			is = "is"
		}
		fmt.Fprintf(out, "%s %s not there: the body is painted (%s). Nothing was frozen for them.\n", number(len(late), "hole or stud", "holes and studs"), is, strings.Join(late, ", "))
	}
	if !included && n.All() > 0 {
		fmt.Fprintf(out, "Add this line to %s: include \"%s\"\n", job, name)
	}
	return nil
}

// same is nil if the texts of the job are still what was read: decisions must not be written down for another text.
func (j *job) same(dir string) error {
	inside, err := os.OpenRoot(dir)
	if err != nil {
		return fmt.Errorf("cannot read %s: %v", dir, plain(err))
	}
	defer inside.Close()
	for _, s := range j.Sources.Files {
		if s.Library {
			continue
		}
		if now, err := readIn(inside, filepath.FromSlash(s.Name)); err != nil || string(now) != s.Text {
			return fmt.Errorf("%s was changed meanwhile; nothing was frozen, start again", filepath.Join(dir, s.Name))
		}
	}
	return nil
}

func (f *frozen) tell(out io.Writer, n freeze.Count, revision, path string) {
	var kinds []string
	if f.wires {
		kinds = append(kinds, number(n.Cavities, "cavity", "cavities"), number(n.Labels, "label", "labels"))
		if n.Splices > 0 {
			kinds = append(kinds, number(n.Splices, "place of a splice", "places of splices"))
		}
	}
	if f.holes {
		kinds = append(kinds, number(n.Holes, "hole or stud", "holes and studs"))
	}
	fmt.Fprintf(out, "%s frozen at revision %s in %s: %s.\n", count(n.All(), "decision"), revision, path, strings.Join(kinds, ", "))
	if f.wires {
		fmt.Fprintln(out, "Sizes are not frozen: one that is left to the program may still change. State `size` for wires that are made.")
	}
}

func number(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
