package export

import (
	"bytes"
	"io"
	"reflect"
	"slices"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/diag"
	"loomsheet/harness/rule"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
)

// What is put out in parts is what the whole document says, byte by byte.
func TestPartsAreTheWhole(t *testing.T) {
	for _, wires := range []int{0, 15} {
		text := trial.Text(7, wires)
		job, read, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, parts.Files(), rule.Keys())
		if said.HasMistakes() {
			t.Fatal(said)
		}
		in := Input{Result: harness.Compile(job), Digest: read.Digest()[:12], Locate: func(diag.Span) string { return "<here> & there" }}
		in.Messages = in.Findings
		d := Make(in)
		want, err := d.JSON()
		if err != nil {
			t.Fatal(err)
		}
		var got bytes.Buffer
		if err := Write(in, &got); err != nil || !bytes.Equal(got.Bytes(), want) {
			n := 0
			for n < got.Len() && n < len(want) && got.Bytes()[n] == want[n] {
				n++
			}
			t.Fatalf("%v; byte %d: %.200s\nwant %.200s", err, n, got.Bytes()[n:], want[n:])
		}
		tables := d.Tables()
		err = EachTable(in, func(name string, write func(io.Writer) error) error {
			var b bytes.Buffer
			if err := write(&b); err != nil {
				return err
			}
			data := b.Bytes()
			k := slices.IndexFunc(tables, func(t Table) bool { return t.Name == name })
			if k < 0 {
				t.Fatalf("table %s is none, or comes twice", name)
			}
			want, err := tables[k].CSV()
			if !bytes.Equal(want, data) {
				t.Errorf("table %s is %.300s\nwant %.300s", name, data, want)
			}
			tables = slices.Delete(tables, k, k+1)
			return err
		})
		if err != nil || len(tables) > 0 {
			t.Errorf("%v, %d tables are missing", err, len(tables))
		}
	}
}

// Each field belongs to the part before it, and each table to a part.
func TestPartsHoldEveryField(t *testing.T) {
	first := map[string]bool{}
	last := -1
	for i := range allParts {
		p := allParts[i].first
		f, ok := reflect.TypeFor[Doc]().FieldByName(p)
		if !ok || f.Index[0] <= last {
			t.Errorf("part %s is out of order", p)
		}
		last = f.Index[0]
		first[p] = true
	}
	for _, table := range (&Doc{}).Tables() {
		if !first[rowsOf[table.Name]] {
			t.Errorf("nothing says what the rows of %s are of", table.Name)
		}
	}
}
