package export

import (
	"bytes"
	"encoding"
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"regexp"
	"testing"

	"pgregory.net/rapid"

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
		err = EachTable(in, func(name string, pieces [][]byte) error {
			data := bytes.Join(pieces, nil)
			want, err := tables[0].CSV()
			if tables[0].Name != name || !bytes.Equal(want, data) {
				t.Errorf("table %s is %.300s\nwant %s, %.300s", name, data, tables[0].Name, want)
			}
			tables = tables[1:]
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

// What is written here is what the encoder of the standard library writes, of every kind of value that a document holds.
func TestOutIsTheStandardEncoder(t *testing.T) {
	type inner struct {
		Words []string `json:"words"`
		Three [3]Num   `json:"three"`
		None  []inner  `json:"none"`
	}
	type outer struct {
		Text  string  `json:"text"`
		Num   Num     `json:"num"`
		Count int     `json:"count"`
		Yes   bool    `json:"yes"`
		List  []inner `json:"list"`
		One   inner   `json:"one"`
	}
	letters := []rune("ab 1\"\\/<>&\n\t\x00\x1f\x7f\u2028\u2029\ufffdäΩ²☐😀")
	rapid.Check(t, func(t *rapid.T) {
		texts := rapid.StringOf(rapid.SampledFrom(letters))
		text := texts.Draw(t, "text")
		if text != "" && rapid.Bool().Draw(t, "damaged") {
			text = text[:len(text)-1]
		}
		num := Num(rapid.Float64().Draw(t, "number"))
		if rapid.Bool().Draw(t, "as usual") {
			num = Num(rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1, -12.5, 1e-6, 9.99999999e-7, 1e20, 1e21, -1e21, 0.1}).Draw(t, "usual"))
		}
		x := outer{text, num, rapid.Int().Draw(t, "count"), num > 0, nil, inner{Words: []string{}}}
		for range rapid.IntRange(0, 3).Draw(t, "long") {
			x.List = append(x.List, inner{rapid.SliceOf(texts).Draw(t, "words"), [3]Num{num, 1, -num}, []inner{}})
		}
		want, err := json.MarshalIndent(x, "", " ")
		var got bytes.Buffer
		o := newOut(&got)
		o.value(reflect.ValueOf(x), 0)
		if o.flush(); err != nil || o.err != nil || got.String() != string(want) {
			t.Fatalf("%v, %v: %s\nwant %s", err, o.err, got.Bytes(), want)
		}
	})
	var none bytes.Buffer
	o := newOut(&none)
	if o.number(math.NaN()); o.flush() == nil {
		t.Error("what is no number is no error")
	}
}

// No field of the document asks for more than is done here: keys alone, and values that have no words of their own.
func TestFieldsArePlain(t *testing.T) {
	key, seen := regexp.MustCompile(`^[a-z][a-z0-9_]*$`), map[reflect.Type]bool{}
	var look func(reflect.Type)
	look = func(at reflect.Type) {
		if seen[at] {
			return
		}
		seen[at] = true
		for _, own := range []reflect.Type{reflect.TypeFor[json.Marshaler](), reflect.TypeFor[encoding.TextMarshaler]()} {
			if reflect.PointerTo(at).Implements(own) {
				t.Errorf("%v has a way of its own", at)
			}
		}
		switch at.Kind() {
		case reflect.Struct:
			for i := range at.NumField() {
				f := at.Field(i)
				if !f.IsExported() || f.Anonymous || !key.MatchString(f.Tag.Get("json")) {
					t.Errorf("%v.%s has key %q", at, f.Name, f.Tag.Get("json"))
				}
				look(f.Type)
			}
		case reflect.Slice, reflect.Array:
			if at.Elem().Kind() == reflect.Uint8 {
				t.Errorf("%v are bytes", at)
			}
			look(at.Elem())
		}
	}
	look(reflect.TypeFor[Doc]())
	if len(seen) < 60 {
		t.Errorf("only %d types", len(seen))
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("full") }

func TestAFullDiskIsTold(t *testing.T) {
	o := newOut(full{})
	o.list(1<<14, 0, func(i int) reflect.Value { return reflect.ValueOf(i) })
	if o.err == nil || o.flush() == nil {
		t.Error("nothing is said")
	}
}
