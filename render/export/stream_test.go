package export

import (
	"bytes"
	"errors"
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

// small is a trial job of so many wires.
func small(t *testing.T, wires int) Input {
	t.Helper()
	text := trial.Text(7, wires)
	job, read, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, parts.Files(), rule.Keys())
	if said.HasMistakes() {
		t.Fatal(said)
	}
	in := Input{Result: harness.Compile(job), Digest: read.Digest()[:12], Locate: func(diag.Span) string { return "<here> & there" }}
	in.Messages = in.Findings
	return in
}

// What is put out in parts is what the whole document says, byte by byte.
func TestPartsAreTheWhole(t *testing.T) {
	defer func(was int) { atATime = was }(atATime)
	atATime = 4 // so that lists come in several pieces
	for _, wires := range []int{0, 15} {
		in := small(t, wires)
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

// fails takes so many bytes and no more.
type fails struct{ room int }

var errFull = errors.New("full")

func (f *fails) Write(b []byte) (int, error) {
	if f.room -= len(b); f.room < 0 {
		return 0, errFull
	}
	return len(b), nil
}

// What could not be written is told, wherever it happens, the last byte included.
func TestWritingFails(t *testing.T) {
	in := small(t, 15)
	var all bytes.Buffer
	if err := Write(in, &all); err != nil {
		t.Fatal(err)
	}
	for _, room := range []int{0, 1, all.Len() / 3, all.Len() - 1, all.Len()} {
		if err := Write(in, &fails{room}); err != errFull != (room == all.Len()) {
			t.Errorf("%d of %d bytes: %v", room, all.Len(), err)
		}
	}
	tables := 0
	err := EachTable(in, func(name string, write func(io.Writer) error) error {
		var whole bytes.Buffer
		if err := write(&whole); err != nil {
			return err
		}
		tables++
		for _, room := range []int{0, whole.Len() / 2, whole.Len() - 1, whole.Len()} {
			if err := write(&fails{room}); err != errFull != (room == whole.Len()) {
				t.Errorf("%s, %d of %d bytes: %v", name, room, whole.Len(), err)
			}
		}
		return nil
	})
	if err != nil || tables < 20 {
		t.Errorf("%v, %d tables", err, tables)
	}
	if err := EachTable(in, func(string, func(io.Writer) error) error { return errFull }); err != errFull {
		t.Error(err)
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
