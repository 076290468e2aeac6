package reviewbook

import (
	"strings"

	"loomsheet/harness/design"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// settings lists every setting with the value that holds where nothing narrower does, then the narrower ones under it.
func (b *book) settings(fl *page.Flow) {
	fl.NewPage()
	fl.Heading(1, "Limits and settings in force")
	fl.Say(prose, "The value in the row of a setting holds wherever none of the narrower ones under it does. Of two that both hold the narrower one rules: circuit, device, break, run, panel, class, zone, section, then the job; of equals the one that also names a case.")
	t := table.New(table.Column{Title: "Setting", Type: bold, Min: 32}, table.Column{Title: "Value", Type: bold, Min: 22}, table.Column{Title: "Where it was set, or its default and source", Weight: 3, Type: plain},
		table.Column{Title: "What it is", Weight: 3, Type: fine})
	t.RowHeight, t.GroupEvery, t.Close = 5, 0, true
	for _, limits := range []bool{true, false} {
		if limits {
			t.Sub("Limits: not meeting one is a finding")
		} else {
			t.Sub("Factors, allowances and defaults")
		}
		for i := range design.SettingDefs {
			if d := &design.SettingDefs[i]; d.Limit == limits {
				b.setting(t, d)
			}
		}
	}
	fl.Add(t)
}

func (b *book) setting(t *table.Table, d *design.SettingDef) {
	r := b.in.Job.Settings.Get(d.Name, design.Scope{})
	value, where := "not set", r.Source()
	if r.Known {
		value = common.Squared(r.Value.String())
	} else {
		where = d.Source
	}
	if r.Set {
		where += ", " + b.at(r.Span)
	}
	t.Row(table.T(d.Name), table.T(value), table.T(bare(where)), table.T(bare(d.Doc)))
	for i := range b.in.Job.Settings.Lines {
		l := &b.in.Job.Settings.Lines[i]
		if l.Name != d.Name || l.ScopeText() == "job" {
			continue
		}
		t.More(table.Cell{}, table.T(common.Squared(l.Value.String())), table.Cell{Text: l.ScopeText(), Type: bold}, table.T(b.at(l.Span)))
	}
}

// bare takes out the marks that set words of the language apart on a screen.
func bare(s string) string { return strings.ReplaceAll(s, "`", "") }
