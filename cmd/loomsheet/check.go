package main

import "github.com/spf13/cobra"

func checkCommand() *cobra.Command {
	format := formatFlag("text")
	var whole bool
	c := &cobra.Command{
		Use:     "check FILE",
		Short:   "Say what is wrong with a job and what is met",
		Example: "  loomsheet check car.loom\n  loomsheet check car.loom --format json",
		RunE: func(c *cobra.Command, args []string) error {
			j, err := open(args[0], c.ErrOrStderr())
			if err != nil {
				return err
			}
			if err := j.tell(c.OutOrStdout(), format, whole); err != nil {
				return err
			}
			return j.status()
		},
		ValidArgsFunction: loomFiles,
	}
	c.Flags().Var(&format, "format", "how to print: text or json")
	c.Flags().BoolVar(&whole, "all", false, "print every message, however many are alike")
	return c
}

// status is openError when something stands open.
func (j *job) status() error {
	if j.messages().Open() > 0 {
		return openError{}
	}
	return nil
}
