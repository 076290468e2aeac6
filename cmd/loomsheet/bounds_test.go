package main

import (
	"fmt"
	"strings"
	"testing"
)

// A job of more statements than are read is told at the first too many, in one message, and its exit status is that of a text with mistakes. They are
// cheap ones in two files, since a single file of so many is cut short before.
func TestMoreStatementsThanAreRead(t *testing.T) {
	lines := strings.Repeat("sleeve a\n", 310_000)
	put(t, map[string]string{"job.loom": lampJob + "include \"one.loom\"\ninclude \"two.loom\"\n", "one.loom": lines, "two.loom": lines})
	status, out, err := command(t, "check", "job.loom")
	all := out + err
	if status != exitOpen || strings.Count(all, "this job has more than 600000 statements") != 1 || !strings.Contains(all, "two.loom:") || !strings.Contains(all, "1 mistake in the text") || len(all) > 20000 {
		t.Errorf("status %d, %d bytes: %.3000s", status, len(all), all)
	}
}

// Very many things in one place are no mistake: what is wrong with that is found as with few, and soon.
func TestCrowdsInOnePlace(t *testing.T) {
	const head = `harness "Crowd" revision A
section body
zone open air 35 C
device battery at (0, 0, 0 mm) {
  pin plus, minus stud M6
  inner cell
  supply 12.6 V inside 10 mohm from cell to minus
  fuse blade-30 from cell to plus
}
case lit { supply battery }
run side from battery to hub section body zone open
`
	for name, text := range map[string]string{
		"devices": fmt.Sprintf("point hub at (1000, 0, 0 mm)\ndevice lamp[1..%[1]d] at hub housing sealed-2 {\n  draw 0.05 W at 12 V as resistance from 1 to 2\n}\n"+
			"circuit feed[1..%[1]d] from battery.plus to lamp[1..%[1]d].1\ncircuit back[1..%[1]d] from battery.minus to lamp[1..%[1]d].2\n", 80),
		"places":   "point hub at (1000, 0, 0 mm)\npoint p[1..500] at (1000, 0, 0 mm)\ndevice d[1..500] at (1000, 0, 0 mm) { pin a stud M6 }\n",
		"cavities": "housing big {\n  cavity [1..500] takes size-20\n}\ndevice hub at (1000, 0, 0 mm) housing big\ncircuit feed[1..250] from battery.plus to hub.[1..250]\ncircuit back[1..250] from battery.minus to hub.[251..500]\n",
		"faces":    "housing big {\n  cavity [1..500] takes size-20 at (1, 1 mm)\n}\ndevice hub at (1000, 0, 0 mm) housing big\ncircuit feed from battery.plus to hub.1\n",
	} {
		put(t, map[string]string{"job.loom": head + text})
		status, out, err := command(t, "check", "job.loom")
		if all := out + err; status != exitOpen || !strings.Contains(all, "open") || strings.Contains(all, "mistake") || len(all) > 200000 {
			t.Errorf("%s: status %d, %d bytes: %.2000s", name, status, len(all), all)
		}
	}
}
