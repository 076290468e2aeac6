package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
	"loomsheet/render"
	"loomsheet/render/common"
	"loomsheet/render/netlist"
)

func netlistCommand() *cobra.Command {
	var name, start, out string
	c := &cobra.Command{
		Use:   "netlist FILE",
		Short: "Write the net of a case for a general circuit simulator",
		Long: `netlist writes the net of a case in the open netlist form that general circuit simulators read: a second opinion on volts and amps.
Every element and place stands there with its name and with what was found for it, to be compared line by line.

With --case, or if the job has one case only, it goes to the standard output or to the file -o. Otherwise -o is a folder, and each case
gets a file CASE.cir in it.`,
		Example: `  loomsheet netlist car.loom --case crank-cold
  loomsheet netlist car.loom --case crank-cold --start starter -o crank.cir
  loomsheet netlist car.loom -o nets                                           every case, into a folder`,
		RunE: func(c *cobra.Command, args []string) error {
			j, err := open(args[0], c.ErrOrStderr())
			if err != nil {
				return err
			}
			if j.Result == nil {
				if err := j.tell(c.ErrOrStderr(), "text", false); err != nil {
					return err
				}
				return openError{}
			}
			if name == "" && len(j.Cases) == 1 {
				name = j.Cases[0].Case
			}
			if name == "" && len(j.Cases) > 0 {
				if start != "" {
					return errors.New("--start goes with --case")
				}
				if out == "" {
					return fmt.Errorf("the job has %d cases; name one with --case, or a folder for all with -o", len(j.Cases))
				}
				return j.netlists(c, out)
			}
			text, err := j.netlist(name, start)
			if err != nil {
				return err
			}
			if out == "" {
				_, err := fmt.Fprint(c.OutOrStdout(), text)
				return err
			}
			return writeNetlist(out, text)
		},
		ValidArgsFunction: loomFiles,
	}
	c.Flags().StringVar(&name, "case", "", "the case")
	c.Flags().StringVar(&start, "start", "", "a device that starts in the case: the net while it starts")
	c.Flags().StringVarP(&out, "output", "o", "", "file for one case, folder for all")
	_ = c.RegisterFlagCompletionFunc("case", caseNames) // fails only for a flag that is not there
	return c
}

// netlist is the text of a case, or of a start in it.
func (j *job) netlist(name, start string) (string, error) {
	var res *solve.CaseResult
	var names []string
	for _, c := range j.Cases {
		names = append(names, c.Case)
		if c.Case == name {
			res = c
		}
	}
	if res == nil {
		return "", unknownName("case", name, names)
	}
	h := common.HeadOf(j.input())
	in := netlist.Input{Job: h.Job, Revision: h.Revision, Digest: h.Digest, Invented: h.Invented, NotForBuild: h.NotForBuild,
		Case: res.Case, Net: res.Net, Laws: solve.Laws(res), Point: res.Point}
	if start == "" {
		return netlist.Text(in), nil
	}
	names = nil
	for i := range res.Starts {
		s := &res.Starts[i]
		names = append(names, s.Device)
		if s.Device == start {
			in.Start, in.Net, in.Laws, in.Point = start, s.Net, solve.StartLaws(j.Job, res, start), s.Point()
			return netlist.Text(in), nil
		}
	}
	if len(names) == 0 {
		return "", fmt.Errorf("nothing starts in case %s", name)
	}
	return "", unknownName("device that starts in case "+name+",", start, names)
}

func unknownName(what, name string, names []string) error {
	err := fmt.Errorf("there is no %s %s", what, name)
	if near := diag.Nearest(name, names); len(near) > 0 {
		return fmt.Errorf("%w; did you mean %s?", err, strings.Join(near, ", "))
	}
	return fmt.Errorf("%w; there are %s", err, strings.Join(names, ", "))
}

// netlists writes every case into a folder.
func (j *job) netlists(c *cobra.Command, dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("cannot make the folder %s: %v", dir, plain(err))
	}
	var names []string
	for _, res := range j.Cases {
		names = append(names, res.Case)
	}
	files := render.FileNames(names)
	for i, res := range j.Cases {
		text, err := j.netlist(res.Case, "")
		if err != nil {
			return err
		}
		if err := writeNetlist(filepath.Join(dir, files[i]+".cir"), text); err != nil {
			return err
		}
	}
	fmt.Fprintf(c.OutOrStdout(), "%s in %s.\n", count(len(j.Cases), "netlist"), dir)
	return nil
}

// writeNetlist replaces nothing but a netlist.
func writeNetlist(name, text string) error {
	old, err := readFile(name)
	if err == nil && !bytes.HasPrefix(old, []byte("* ")) || err != nil && !errors.Is(err, errNotThere) {
		return fmt.Errorf("%s is there already and is no netlist; give another name with -o", name)
	}
	_, err = replaceFile(name, old, []byte(text))
	return err
}
