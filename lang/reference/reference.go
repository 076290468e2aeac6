// Package reference writes lang/REFERENCE.md from the tables that the program itself works by.
package reference

import (
	_ "embed"
	"fmt"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
	"loomsheet/lang/word"
)

//go:embed intro.md
var intro string

//go:embed index.md
var index string

// Text is the whole reference. parts lists the library.
func Text(parts design.Parts) string {
	var b strings.Builder
	b.WriteString(intro)
	b.WriteString("\n## Words of a job\n\nOptions every word and line takes: ")
	for i, o := range word.Common {
		if i > 0 {
			b.WriteString(", ")
		}
		fmt.Fprintf(&b, "`%s` (%s)", o.Name, o.Doc)
	}
	b.WriteString(".\n")
	words(&b, false)
	b.WriteString("\n## Words for parts\n\nSeldom needed: the built-in library holds the usual parts, and gives way to a part of the same name in the job.\n")
	words(&b, true)
	settings(&b)
	units(&b)
	library(&b, parts)
	b.WriteString(index)
	return b.String()
}

func words(b *strings.Builder, part bool) {
	for _, w := range word.All() {
		if w.Part != part {
			continue
		}
		if w.In == "" {
			fmt.Fprintf(b, "\n### %s\n\n", w.Name)
		} else {
			fmt.Fprintf(b, "\n#### %s, in %s\n\n", w.Name, w.In)
		}
		fmt.Fprintf(b, "%s\n\nAbout: %s.\n", w.Doc, w.About.Wants())
		if len(w.Options) > 0 {
			b.WriteString("\n| option | value | default | |\n| --- | --- | --- | --- |\n")
		}
		for _, o := range w.Options {
			wants := o.Arg.Wants()
			if o.Repeats {
				wants += "; may stand several times"
			}
			fmt.Fprintf(b, "| `%s` | %s | %s | %s |\n", o.Name, cell(wants), cell(o.Default), cell(o.Doc))
		}
		if w.Example != "" {
			fmt.Fprintf(b, "\n```loom\n%s\n```\n", strings.TrimSpace(w.Example))
		}
	}
}

func cell(s string) string { return strings.ReplaceAll(s, "|", "\\|") }

func settings(b *strings.Builder) {
	fmt.Fprintf(b, "\n## Settings\n\n`set NAME to VALUE`, for the job or narrowed by `%s` or `case`. The narrower scope rules, in that order; of two equals the one that also names a case; two\nleft that differ are a mistake. Settings marked * can fail a check. A sheet prints which one ruled and where it was set.\n", strings.Join(design.ScopeKinds, "`, `"))
	b.WriteString("\n| setting | value | default | source of the default | what it is |\n| --- | --- | --- | --- | --- |\n")
	for _, s := range design.SettingDefs {
		name := "`" + s.Name + "`"
		if s.Limit {
			name += " *"
		}
		def := s.Default
		if def == "" {
			def = "not set"
		}
		fmt.Fprintf(b, "| %s | %s | %s | %s | %s |\n", name, cell(wants(&s)), cell(def), cell(s.Source), cell(s.Doc))
	}
}

func wants(s *design.SettingDef) string {
	switch s.Kind {
	case design.SetChoice:
		return strings.Join(s.Choices, ", ")
	case design.SetPart:
		return "name of a " + s.Part
	}
	var out []string
	for _, d := range s.Dims {
		out = append(out, d.String())
	}
	return strings.Join(out, " or ")
}

func units(b *strings.Builder) {
	b.WriteString("\n## Units\n\n| of | written |\n| --- | --- |\n")
	for d := unit.DimLength; d <= unit.DimConductivity; d++ {
		var names []string
		for _, u := range unit.Units {
			if u.Dim == d {
				names = append(names, "`"+u.Name+"`")
				for _, a := range u.Also {
					if !strings.ContainsAny(a, "\u2126\u03bc") { // letters that look like those already listed
						names = append(names, "`"+a+"`")
					}
				}
			}
		}
		if len(names) > 0 {
			fmt.Fprintf(b, "| %s | %s |\n", d, strings.Join(names, ", "))
		}
	}
	b.WriteString("\nWire gauges run from `0000 AWG` to `30 AWG`. `min` is minutes, an inch is `inch`. No gauge equals a metric size.\n")
}

func library(b *strings.Builder, p design.Parts) {
	b.WriteString("\n## Built-in parts\n\nEach part says where its figures come from; \"typical\" and \"from memory\" are marked as unverified wherever a verdict rests on them. Describe a part of your own under the same word, and it wins.\n\n| word | parts |\n| --- | --- |\n")
	row(b, "wire", p.Wires, func(x *design.Wire) string { return x.Name })
	row(b, "contact", p.Contacts, func(x *design.Contact) string { return fmt.Sprintf("%s (%s to %s)", x.Name, x.WireLeast, x.WireMost) })
	row(b, "housing (cavities)", p.Housings, func(x *design.Housing) string { return fmt.Sprintf("%s (%d)", x.Name, len(x.Cavities)) })
	row(b, "seal", p.Seals, func(x *design.Seal) string { return x.Name })
	row(b, "fuse", p.Fuses, func(x *design.Fuse) string { return x.Name })
	row(b, "sleeve", p.Sleeves, func(x *design.Sleeve) string { return x.Name })
	row(b, "boot", p.Boots, func(x *design.Boot) string { return x.Name })
	row(b, "clip", p.Clips, func(x *design.Clip) string { return x.Name })
	row(b, "fastener", p.Fasteners, func(x *design.Fastener) string { return x.Name })
}

func row[T any](b *strings.Builder, word string, parts []T, name func(T) string) {
	var names []string
	for _, x := range parts {
		names = append(names, name(x))
	}
	fmt.Fprintf(b, "| %s | %s |\n", word, strings.Join(names, ", "))
}
