package export

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"reflect"
	"slices"
	"strings"
)

// A document of a large job is put out in parts, each of which is made, written and dropped before the next: neither the whole of it nor its text
// is ever in memory.

// part is fields of Doc that are made together, in the order in which they stand in it.
type part struct {
	first string // name of the first of its fields
	fill  func(in Input, d *Doc)
	// Of a part that is one long list: how long it is, and a document with one element alone.
	count func(in Input) int
	one   func(in Input, i int, d *Doc)
	// The long lists of an element, else of the first field: made one by one after the record, in which they are empty.
	lists func(in Input, i int) []list
	small bool // an element is: a table takes some together
}

// list is a long field of a record, of which each element is made by itself.
type list struct {
	field string
	n     int
	at    func(i int) reflect.Value // can be addressed
}

func listOf[T any](field string, n int, at func(i int) T) list {
	return list{field, n, func(i int) reflect.Value {
		x := at(i)
		return reflect.ValueOf(&x).Elem()
	}}
}

// fill makes elements of a list and puts them into the record.
func (l list) fill(record reflect.Value, from, to int) {
	f := record.FieldByName(l.field)
	f.Set(reflect.MakeSlice(f.Type(), 0, to-from))
	for i := from; i < to; i++ {
		f.Set(reflect.Append(f, l.at(i)))
	}
}

// element is the i-th of a part that is a list, without its own lists; it can be addressed.
func (p *part) element(in Input, i int) reflect.Value {
	d := &Doc{}
	p.one(in, i, d)
	return reflect.ValueOf(d).Elem().FieldByName(p.first).Index(0)
}

// whole fills the fields of a part that is no list.
func (p *part) whole(in Input, d *Doc) {
	p.fill(in, d)
	for _, l := range p.listsOf(in, 0) {
		l.fill(reflect.ValueOf(d).Elem().FieldByName(p.first), 0, l.n)
	}
}

func (p *part) listsOf(in Input, i int) []list {
	if p.lists == nil {
		return nil
	}
	return p.lists(in, i)
}

var allParts = []part{
	{first: "Format", fill: head},
	{first: "Sections", count: func(in Input) int { return len(in.Plan.Sections) }, one: func(in Input, i int, d *Doc) {
		d.Sections = []Section{section(in, &in.Plan.Sections[i])}
	}},
	{first: "Reels", fill: func(in Input, d *Doc) { d.Reels = reels(in) }},
	{first: "Bench", fill: func(in Input, d *Doc) { d.Bench = workshop(in) }, lists: func(in Input, _ int) []list { return []list{removals(in)} }},
	{first: "Wires", count: func(in Input) int { return len(in.Net.Wires) }, one: func(in Input, i int, d *Doc) { d.Wires = []Wire{wire(in, i)} }, small: true},
	{first: "Cables", fill: func(in Input, d *Doc) { d.Cables = cables(in) }},
	{first: "Runs", fill: func(in Input, d *Doc) { d.Runs = runs(in) }},
	{first: "Turns", fill: func(in Input, d *Doc) { d.Turns, d.Nears, d.Moves = ways(in) }},
	{first: "Shell", fill: func(in Input, d *Doc) { d.Shell = bareShell(in) }},
	{first: "Holes", fill: func(in Input, d *Doc) { d.Holes = holes(in) }},
	{first: "Cases", count: func(in Input) int { return len(in.Cases) }, one: func(in Input, i int, d *Doc) {
		d.Cases = []Case{oneCase(in.Cases[i])}
	}, lists: func(in Input, i int) []list { return caseLists(in, in.Cases[i]) }},
	{first: "Fuses", fill: func(in Input, d *Doc) { d.Fuses = fuses(in) }},
	{first: "Shorts", fill: func(in Input, d *Doc) { d.Shorts = shorts(in) }},
	{first: "Pairs", fill: func(in Input, d *Doc) { d.Pairs = pairs(in) }},
	{first: "Guards", fill: func(in Input, d *Doc) { d.Guards = guards(in) }},
	{first: "Contacts", fill: func(in Input, d *Doc) { d.Contacts = contactLoads(in) }},
	{first: "Balances", fill: energy},
	{first: "Parts", fill: func(in Input, d *Doc) { d.Parts = bought(in) }},
	{first: "Settings", fill: func(in Input, d *Doc) { d.Settings = settings(in.Job) }},
}

var atATime = 64 // elements of a long list that are held for a table

// pieces calls do with the part by itself, one element after another where it is a long list, and with what is in its lists a few at a time. With each few the
// other fields of the element come again: a table may take its rows from the lists alone.
func (p *part) pieces(in Input, do func(d *Doc) error) error {
	if p.fill != nil {
		d := &Doc{}
		p.whole(in, d)
		return do(d)
	}
	n := p.count(in)
	if p.lists == nil {
		all := list{p.first, n, func(i int) reflect.Value { return p.element(in, i) }}
		d := &Doc{}
		step := 1
		if p.small {
			step = atATime
		}
		for from := 0; from < n; from += step {
			all.fill(reflect.ValueOf(d).Elem(), from, min(from+step, n))
			if err := do(d); err != nil {
				return err
			}
		}
		return nil
	}
	for i := range n {
		d := &Doc{}
		p.one(in, i, d)
		record := reflect.ValueOf(d).Elem().FieldByName(p.first).Index(0)
		for _, l := range p.lists(in, i) {
			for from := 0; from < l.n; from += atATime {
				l.fill(record, from, min(from+atATime, l.n))
				if err := do(d); err != nil {
					return err
				}
			}
			l.fill(record, 0, 0)
		}
	}
	return nil
}

// Write puts out the document of a compiled job, the same text as Make(in).JSON().
func Write(in Input, w io.Writer) error {
	o := &out{w: bufio.NewWriterSize(w, 1<<16)}
	o.json = json.NewEncoder(&o.buf)
	t := reflect.TypeFor[Doc]()
	o.text("{")
	at := 0
	for k := range allParts {
		if o.err != nil {
			return o.err
		}
		p, to := &allParts[k], t.NumField()
		if k+1 < len(allParts) {
			f, _ := t.FieldByName(allParts[k+1].first)
			to = f.Index[0]
		}
		if p.fill != nil {
			d := &Doc{}
			p.fill(in, d)
			lists := p.listsOf(in, 0)
			for ; at < to; at++ {
				o.field(t.Field(at), at == 0, 1)
				o.value(reflect.ValueOf(d).Elem().Field(at), 1, lists)
				lists = nil
			}
			continue
		}
		o.field(t.Field(at), at == 0, 1)
		o.list(p.count(in), 1, func(i int) { o.value(p.element(in, i), 2, p.listsOf(in, i)) })
		at = to
	}
	o.text("\n}\n")
	if o.err != nil {
		return o.err
	}
	return o.w.Flush()
}

// out is a text of nested values on its way, indented by a space a level.
type out struct {
	w    *bufio.Writer
	json *json.Encoder // into buf, which is used again
	buf  bytes.Buffer
	err  error
}

func (o *out) text(s string) {
	if o.err == nil {
		_, o.err = o.w.WriteString(s)
	}
}

func (o *out) line(depth int) { o.text("\n" + strings.Repeat(" ", depth)) }

func (o *out) field(f reflect.StructField, first bool, depth int) {
	if !first {
		o.text(",")
	}
	o.line(depth)
	o.text(`"` + f.Tag.Get("json") + `": `)
}

func (o *out) list(n, depth int, element func(i int)) {
	if n == 0 {
		o.text("[]")
		return
	}
	o.text("[")
	for i := range n {
		if o.err != nil {
			return
		}
		if i > 0 {
			o.text(",")
		}
		o.line(depth + 1)
		element(i)
	}
	o.line(depth)
	o.text("]")
}

// long are the records of which not even one is put out at once.
var long = map[reflect.Type]bool{reflect.TypeFor[Section](): true, reflect.TypeFor[Case](): true, reflect.TypeFor[Workshop](): true, reflect.TypeFor[Shell](): true}

// value puts out a value, of a record with long lists those element by element as each is made.
func (o *out) value(v reflect.Value, depth int, lists []list) {
	switch {
	case v.Kind() == reflect.Slice && v.Type().Elem().Kind() == reflect.Struct && !v.IsNil():
		o.list(v.Len(), depth, func(i int) { o.value(v.Index(i), depth+1, nil) })
		return
	case long[v.Type()]:
		o.text("{")
		for i := range v.NumField() {
			f := v.Type().Field(i)
			o.field(f, i == 0, depth+1)
			k := slices.IndexFunc(lists, func(l list) bool { return l.field == f.Name })
			if k < 0 {
				o.value(v.Field(i), depth+1, nil)
				continue
			}
			o.list(lists[k].n, depth+1, func(i int) { o.value(lists[k].at(i), depth+2, nil) })
		}
		o.line(depth)
		o.text("}")
		return
	}
	if o.err != nil {
		return
	}
	o.buf.Reset()
	o.json.SetIndent(strings.Repeat(" ", depth), " ")
	if o.err = o.json.Encode(v.Addr().Interface()); o.err == nil {
		_, o.err = o.w.Write(bytes.TrimSuffix(o.buf.Bytes(), []byte("\n")))
	}
}

// rowsOf names the first field of the part that the rows of a table are of.
var rowsOf = map[string]string{
	"cut-list": "Sections", "pins": "Sections", "splices": "Sections", "markers": "Sections", "crimps": "Sections", "picks": "Sections",
	"drops": "Cases", "wires": "Wires", "findings": "Format", "parts": "Parts", "fuses": "Fuses", "shorts": "Shorts", "contacts": "Contacts", "reels": "Reels",
	"runs": "Runs", "stations": "Runs", "bends": "Runs", "diameters": "Runs", "clips": "Runs", "turns": "Turns", "nears": "Turns", "moves": "Turns",
	"holes": "Holes", "panels": "Shell", "mounts": "Shell", "masks": "Shell", "plugs": "Shell", "late": "Shell", "open": "Shell", "templates": "Shell",
}

// EachTable makes the tables of a compiled job, the same as those of Make(in), one part of the document after another. Each is handed over as what writes it:
// made while it is written if its rows are all that is told of a part, else held as text together with the others of that part.
func EachTable(in Input, give func(name string, write func(io.Writer) error) error) error {
	all := (&Doc{}).Tables()
	for i := range allParts {
		p := &allParts[i]
		var of []int // tables whose rows are of this part
		for n, t := range all {
			if rowsOf[t.Name] == p.first {
				of = append(of, n)
			}
		}
		if len(of) == 1 {
			t := all[of[0]]
			err := give(t.Name, func(w io.Writer) error {
				if err := t.write(w, t.Head); err != nil {
					return err
				}
				return p.pieces(in, func(d *Doc) error { return t.write(w, d.Tables()[of[0]].Rows...) })
			})
			if err != nil {
				return err
			}
			continue
		}
		texts := make([]pieces, len(all))
		for _, n := range of {
			if err := all[n].write(&texts[n], all[n].Head); err != nil {
				return err
			}
		}
		if len(of) > 0 {
			err := p.pieces(in, func(d *Doc) error {
				tables := d.Tables()
				for _, n := range of {
					if err := tables[n].write(&texts[n], tables[n].Rows...); err != nil {
						return err
					}
				}
				return nil
			})
			if err != nil {
				return err
			}
		}
		for _, n := range of {
			if err := give(all[n].Name, texts[n].writeTo); err != nil {
				return err
			}
			texts[n] = nil
		}
	}
	return nil
}

// write puts out rows of a table, as CSV does.
func (t Table) write(to io.Writer, rows ...[]string) error {
	w := csv.NewWriter(to)
	w.UseCRLF = true
	return w.WriteAll(rows)
}

// pieces is a text that grows without being copied.
type pieces [][]byte

const pieceSize = 1 << 16

func (p *pieces) Write(b []byte) (int, error) {
	n := len(b)
	for len(b) > 0 {
		last := len(*p) - 1
		if last < 0 || len((*p)[last]) == cap((*p)[last]) {
			// The first is small, for most tables are.
			*p = append(*p, make([]byte, 0, min(pieceSize, max(512, len(b))<<min(len(*p), 7))))
			continue
		}
		at := (*p)[last]
		k := min(len(b), cap(at)-len(at))
		(*p)[last] = append(at, b[:k]...)
		b = b[k:]
	}
	return n, nil
}

func (p pieces) writeTo(w io.Writer) error {
	for _, b := range p {
		if _, err := w.Write(b); err != nil {
			return err
		}
	}
	return nil
}
