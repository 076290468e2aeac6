package export

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/route"
	"loomsheet/harness/shell"
	"loomsheet/harness/unit"
)

// told elsewhere: what findings say, what is frozen, and where in the text things stand.
var elsewhere = map[string]bool{"Close": true, "AtEdge": true, "Crowded": true, "Misfit": true, "Unflat": true, "Decision": true, "Edge": true, "Water": true, "Span": true, "SleeveCut": true}

// filler puts a value of its own into every field, so that each can be looked for.
type filler struct {
	n    int
	want []string
}

func (f *filler) fill(v reflect.Value, path string) {
	switch v.Kind() {
	case reflect.Struct:
		if elsewhere[v.Type().Name()] {
			return
		}
		if v.Type() == reflect.TypeFor[bundle.Least]() {
			var x unit.Length
			f.fill(reflect.ValueOf(&x).Elem(), path)
			v.Set(reflect.ValueOf(bundle.LeastOf(x)))
			return
		}
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() { // the rest is told by a method, and printed by who asks that
				f.fill(v.Field(i), path+"."+v.Type().Field(i).Name)
			}
		}
	case reflect.Slice:
		if elsewhere[v.Type().Elem().Name()] {
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range v.Len() {
			f.fill(v.Index(i), path)
		}
	case reflect.Array:
		for i := range v.Len() {
			f.fill(v.Index(i), path)
		}
	case reflect.Float64:
		f.n++
		x := 10000.5 + float64(f.n)
		v.SetFloat(x)
		f.want = append(f.want, path+"="+strconv.FormatFloat(x, 'f', -1, 64))
	case reflect.String:
		f.n++
		s := fmt.Sprintf("word%dx", f.n)
		v.SetString(s)
		f.want = append(f.want, path+"="+s)
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int:
		if strings.HasSuffix(path, "Mounts") || strings.HasSuffix(path, "Edges") || strings.HasSuffix(path, ".Wire") {
			return // places in another list
		}
		f.n++
		v.SetInt(int64(500000 + f.n))
		if !strings.HasSuffix(path, "Stretch") && !strings.HasSuffix(path, "Seams") { // counted from 1 outside
			f.want = append(f.want, fmt.Sprintf("%s=%d", path, 500000+f.n))
		}
	}
}

// inner is what only the rules ask for, or what is printed follows from, and the planes of panels and the places of references, which are in no table.
var inner, untabled = []string{"Late.Kind", "Late.Name", "Bends.Setting", "Clips.Play"}, []string{".Plane.", ".Refs.At", ".Mounts.Flat.", ".Screws.Flat.", ".Low.", ".High."}

// TestEveryFieldOfTheBodyIsWritten fills every field of what the book of the shell prints and looks for it in the document and, but
// for the planes of panels and corners that refs are measured from, in the tables.
func TestEveryFieldOfTheBodyIsWritten(t *testing.T) {
	in := Input{Result: &harness.Result{Job: &design.Job{}, Fixed: &fix.Plan{}, Route: &route.Result{}, Shell: &shell.Shell{}}}
	var f filler
	f.fill(reflect.ValueOf(in.Fixed).Elem().FieldByName("Runs"), "Runs")
	f.fill(reflect.ValueOf(in.Route).Elem(), "Route")
	f.fill(reflect.ValueOf(in.Shell).Elem(), "Shell")
	d := &Doc{Runs: runs(in), Holes: holes(in), Shell: bareShell(in)}
	d.Turns, d.Nears, d.Moves = ways(in)
	text, err := json.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	var csv strings.Builder
	for _, x := range d.bodyTables() {
		data, err := x.CSV()
		if err != nil {
			t.Fatal(err)
		}
		csv.Write(data)
		for _, r := range x.Rows {
			if len(r) != len(x.Head) {
				t.Errorf("table %s: a row of %d cells under %d heads", x.Name, len(r), len(x.Head))
			}
		}
	}
	for _, w := range f.want {
		path, value, _ := strings.Cut(w, "=")
		if slices.ContainsFunc(inner, func(i string) bool { return strings.HasSuffix(path, i) }) {
			continue
		}
		if !strings.Contains(string(text), value) {
			t.Errorf("harness.json does not hold %s", w)
		}
		if slices.ContainsFunc(untabled, func(i string) bool { return strings.Contains(path, i) }) {
			continue
		}
		if !strings.Contains(csv.String(), value) {
			t.Errorf("no table holds %s", w)
		}
	}
	if len(f.want) < 300 {
		t.Errorf("only %d fields looked for", len(f.want))
	}
}
