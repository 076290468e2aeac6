package export

import (
	"flag"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write SCHEMA.md")

func TestSchemaGolden(t *testing.T) {
	want := Schema()
	if *update {
		if err := os.WriteFile("SCHEMA.md", []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile("SCHEMA.md")
	if err != nil || string(got) != want {
		t.Errorf("SCHEMA.md is not what the types say (%v); run go test ./render/export -update", err)
	}
}

// TestEveryFieldIsNamed demands a name and a sentence for each field, so that nothing enters the file unexplained.
func TestEveryFieldIsNamed(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type)
	walk = func(x reflect.Type) {
		for x.Kind() == reflect.Slice || x.Kind() == reflect.Array {
			x = x.Elem()
		}
		if x.Kind() != reflect.Struct || seen[x] {
			return
		}
		seen[x] = true
		for i := range x.NumField() {
			f := x.Field(i)
			name := f.Tag.Get("json")
			if name == "" || f.Tag.Get("doc") == "" || strings.ToLower(name) != name {
				t.Errorf("%s.%s is named %q, said to be %q", x.Name(), f.Name, name, f.Tag.Get("doc"))
			}
			walk(f.Type)
		}
	}
	walk(reflect.TypeFor[Doc]())
	if len(seen) < 20 {
		t.Errorf("only %d records", len(seen))
	}
}

func TestNum(t *testing.T) {
	for _, c := range []struct {
		in   float64
		want string
	}{{0.1 + 0.2, "0.3"}, {-0.0, "0"}, {1234567.89012345, "1234567.89"}, {1e-7 / 3, "0.0000000333333333"}, {3e-12, "0.000000000003"}, {-6.3e-22, "0"}, {math.NaN(), "0"}, {math.Inf(1), "0"}} {
		if got := num(c.in).String(); got != c.want {
			t.Errorf("%g prints %s, want %s", c.in, got, c.want)
		}
	}
}

func TestCSVQuotes(t *testing.T) {
	out, err := Table{Head: []string{"a", "b"}, Rows: [][]string{{`say "x", y`, "1\n2"}}}.CSV()
	if err != nil || string(out) != "a,b\r\n\"say \"\"x\"\", y\",\"1\r\n2\"\r\n" {
		t.Errorf("%q, %v", out, err)
	}
}
