package export

import (
	"fmt"
	"reflect"
	"strings"
)

// Schema writes down what harness.json holds, from the types themselves.
func Schema() string {
	var b strings.Builder
	b.WriteString("# harness.json\n\nEvery number that stands on a sheet. Made from the program's types; a test keeps it so. `" + Format + "` names this schema in the field `format`; it changes when a field changes its meaning or goes.\n\n" +
		"Numbers are rounded to nine significant digits, and to 0 below 1e-12; sheets round them again for paper. Names ending in _mm, _mm2, _v, _a, _ohm, _ohm_per_m, _c, _w are in those units. Lists are never null. The files under `tables/` hold the same values.\n")
	seen := map[reflect.Type]bool{}
	describe(&b, reflect.TypeFor[Doc](), seen)
	return b.String()
}

func describe(b *strings.Builder, t reflect.Type, seen map[reflect.Type]bool) {
	if seen[t] {
		return
	}
	seen[t] = true
	fmt.Fprintf(b, "\n## %s\n\n| field | value | |\n| --- | --- | --- |\n", t.Name())
	var next []reflect.Type
	for i := range t.NumField() {
		f := t.Field(i)
		kind, of := kindOf(f.Type)
		if of != nil {
			next = append(next, of)
		}
		fmt.Fprintf(b, "| `%s` | %s | %s |\n", f.Tag.Get("json"), kind, f.Tag.Get("doc"))
	}
	for _, n := range next {
		describe(b, n, seen)
	}
}

// kindOf names a field's type, and the record it leads to, if any.
func kindOf(t reflect.Type) (string, reflect.Type) {
	switch t.Kind() {
	case reflect.Struct:
		return t.Name(), t
	case reflect.Slice:
		k, of := kindOf(t.Elem())
		return "list of " + k, of
	case reflect.Array:
		k, of := kindOf(t.Elem())
		return fmt.Sprintf("%d of %s", t.Len(), k), of
	case reflect.String:
		return "text", nil
	case reflect.Bool:
		return "true or false", nil
	}
	return "number", nil
}
