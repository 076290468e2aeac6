package harness_test

import (
	"bytes"
	"io/fs"
	"os"
	"reflect"
	"slices"
	"testing"
	"testing/fstest"

	"loomsheet/harness"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/rule"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
	"loomsheet/render/export"
)

// Stages that are given nothing but what the stages that they need (and those that these need) have set come to the same as one after the other, and each
// sets what is its own alone: so no order of those that may run side by side can change anything.
func TestStagesNeedNothingElse(t *testing.T) {
	t.Run("trial", func(t *testing.T) {
		needNothingElse(t, fstest.MapFS{"trial.loom": {Data: []byte(trial.Text(3, 60))}}, "trial.loom")
	})
	t.Run("plover", func(t *testing.T) { needNothingElse(t, os.DirFS("../examples/painted"), "plover.loom") })
}

func needNothingElse(t *testing.T, dir fs.FS, main string) {
	declared := func() *design.Job {
		job, _, said := resolve.Job(main, func(name string) ([]byte, error) { return fs.ReadFile(dir, name) }, parts.Files(), rule.Keys())
		if said.HasMistakes() {
			t.Fatal(said)
		}
		return job
	}
	inOrder := &harness.Result{Declared: declared()}
	for _, s := range harness.Stages {
		s.Run(inOrder)
	}

	whole := &harness.Result{Declared: declared()}
	sets := map[string][]int{} // fields of the result by the stage that sets them
	needs := map[string][]string{}
	owner := map[int]string{}
	for _, s := range harness.Stages {
		for _, n := range s.Needs {
			if sets[n] == nil {
				t.Fatalf("%s needs %s, which does not come before it", s.Name, n)
			}
			needs[s.Name] = append(append(needs[s.Name], n), needs[n]...)
		}
		given := &harness.Result{Declared: whole.Declared}
		for _, n := range needs[s.Name] {
			for _, f := range sets[n] {
				field(given, f).Set(field(whole, f))
			}
		}
		before := *given
		s.Run(given)
		sets[s.Name] = []int{}
		for f := range reflect.TypeFor[harness.Result]().NumField() {
			if alike(field(given, f), field(&before, f)) {
				continue
			}
			if by := owner[f]; by != "" {
				t.Errorf("%s sets %s, as does %s", s.Name, reflect.TypeFor[harness.Result]().Field(f).Name, by)
			}
			owner[f] = s.Name
			sets[s.Name] = append(sets[s.Name], f)
			field(whole, f).Set(field(given, f))
		}
	}

	beside := harness.Compile(declared())
	same(t, "a stage reads what the stages that it needs do not set", whole, inOrder)
	same(t, "side by side", beside, inOrder)
	want := written(t, inOrder) // asked last, since what is packed for the page is packed when it is asked for
	if !bytes.Equal(written(t, whole), want) || !bytes.Equal(written(t, beside), want) {
		t.Error("what is written is not the same as one after the other")
	}
}

// same demands that two results are the same in every part. Cases and what the sizing found hold functions, which cannot be compared: they are held by what
// is written, and by all that follows from them.
func same(t *testing.T, what string, got, want *harness.Result) {
	t.Helper()
	for f := range reflect.TypeFor[harness.Result]().NumField() {
		name := reflect.TypeFor[harness.Result]().Field(f).Name
		if name != "Cases" && name != "Fit" && !reflect.DeepEqual(field(got, f).Interface(), field(want, f).Interface()) {
			t.Errorf("%s: %s is not the same as one after the other", what, name)
		}
	}
}

// written is harness.json of a result.
func written(t *testing.T, r *harness.Result) []byte {
	t.Helper()
	all := slices.Clone(r.Findings)
	all.Sort()
	out, err := export.Make(export.Input{Result: r, Messages: all, Digest: "0", Locate: func(s diag.Span) string { return s.File.String() }}).JSON()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func field(r *harness.Result, i int) reflect.Value { return reflect.ValueOf(r).Elem().Field(i) }

// alike tells whether two fields are the very same: the same thing pointed to, the same list.
func alike(a, b reflect.Value) bool {
	if a.Kind() == reflect.Slice {
		return a.Len() == b.Len() && a.IsNil() == b.IsNil() && a.Pointer() == b.Pointer()
	}
	return a.Kind() == reflect.Pointer && a.Pointer() == b.Pointer() || a.Kind() != reflect.Pointer && reflect.DeepEqual(a.Interface(), b.Interface())
}
