package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// arrows is which rooms each room of the house may use, by folder, and which module from outside. A room not listed fails.
// Tests are free: a test of a stage may read text.
var arrows = map[string][]string{
	"harness/unit":     {},
	"harness/diag":     {"harness/unit"},
	"harness/data":     {"harness/unit"},
	"harness/design":   {"harness/unit", "harness/diag"},
	"harness/space":    {"harness/unit", "harness/diag", "harness/design", "harness/solid"},
	"harness/net":      {"harness/unit", "harness/diag", "harness/design", "harness/space"},
	"harness/solve":    {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/size", "harness/data"},
	"harness/heat":     {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/size", "harness/solve", "harness/data"},
	"harness/size":     {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/data"},
	"harness/size/fit": {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/size", "harness/solve", "harness/heat", "harness/protect", "harness/contact", "harness/data"},
	"harness/protect":  {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/size", "harness/solve", "harness/heat", "harness/data"},
	"harness/contact":  {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/size", "harness/solve", "harness/heat", "harness/data"},
	"harness/charge":   {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/size", "harness/solve", "harness/data"},
	"harness/crank":    {"harness/heat", "harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/size", "harness/size/fit", "harness/solve", "harness/data"},
	"harness/reading":  {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/solve", "harness/data"},
	"harness/margin":   {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/size", "harness/size/fit", "harness/solve", "harness/heat", "harness/protect", "harness/contact", "harness/charge", "harness/data"},
	"harness/pack":     {"harness/unit"},
	"harness/worked":   {"harness/*"},
	"harness/solid":    {"harness/unit", "harness/design"},
	"harness/bundle":   {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/size", "harness/solve", "harness/pack"},
	"harness/clip":     {},
	"harness/fix":      {"harness/unit", "harness/diag", "harness/design", "harness/solid", "harness/space", "harness/net", "harness/bundle", "harness/solve", "harness/clip"},
	"harness/route":    {"harness/unit", "harness/diag", "harness/design", "harness/solid", "harness/space", "harness/net", "harness/size", "harness/bundle", "harness/fix"},
	"harness/shell":    {"harness/unit", "harness/diag", "harness/design", "harness/solid", "harness/space", "harness/net", "harness/bundle", "harness/fix"},
	"harness/bench":    {"harness/layup", "harness/joint", "harness/face", "harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/size", "harness/bundle", "harness/fix", "harness/shell", "harness/data"},
	"harness/joint":    {"harness/unit", "harness/diag", "harness/design", "harness/solid", "harness/space", "harness/net", "harness/size", "harness/data", "harness/heat", "harness/pack"},
	"harness/layup":    {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/size", "harness/data", "harness/bundle", "harness/pack"},
	"harness/free":     {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/size", "harness/data", "harness/solve", "harness/fix", "harness/protect", "harness/live"},
	"harness/live":     {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/size", "harness/data", "harness/solve", "harness/protect"},
	"harness/mate":     {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/fix"},
	"harness/reel":     {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/size", "harness/data", "harness/bench"},
	"harness/board":    {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/size", "harness/data", "harness/bench", "harness/bundle", "harness/layup", "harness/face", "harness/solid", "harness/solve"},
	"harness/assembly": {"harness/unit", "harness/diag", "harness/design", "harness/solid", "harness/space", "harness/net", "harness/size", "harness/data", "harness/joint", "harness/bench", "harness/bundle", "harness/shell"},
	"harness/face":     {"harness/unit", "harness/diag", "harness/design", "harness/space", "harness/net", "harness/size", "harness/data"},
	"harness/rule":     {"harness/*"},
	"harness":          {"harness/*"},

	"lang/trial":       {},
	"lang/trial/draws": {"pgregory.net/rapid"},
	"lang/token":       {"harness/unit", "harness/diag", "golang.org/x/text"},
	"lang/word":        {"harness/unit", "harness/diag"},
	"lang/syntax":      {"harness/unit", "harness/diag", "lang/token", "lang/word", "github.com/alecthomas/participle/v2"},
	"lang/format":      {"harness/unit", "harness/diag", "lang/token", "lang/word", "lang/syntax"},
	"lang/report":      {"harness/unit", "harness/diag", "github.com/rivo/uniseg"},
	"lang/parts":       {},
	"lang/sense":       {"harness/unit", "harness/diag", "harness/design", "lang/token", "lang/word", "lang/syntax", "lang/expand"},
	"lang/expand":      {"harness/unit", "harness/diag", "lang/token", "lang/word", "lang/syntax"},
	"lang/resolve":     {"harness/unit", "harness/diag", "harness/design", "harness/solid", "harness/data", "lang/token", "lang/word", "lang/syntax", "lang/parts", "lang/sense", "lang/expand"},
	"lang/freeze":      {"harness/unit", "harness/design", "harness/net", "harness/shell"},
	"lang/reference":   {"harness/unit", "harness/design", "lang/word"},

	"render":            {"harness", "harness/*", "render/*"},
	"render/font":       {"harness/unit", "github.com/rivo/uniseg", "golang.org/x/image", "github.com/go-fonts/dejavu"},
	"render/page":       {"harness/unit", "render/font"},
	"render/table":      {"harness/unit", "render/font", "render/page"},
	"render/drawing":    {"harness/unit", "render/font", "render/page"},
	"render/pdf":        {"harness/unit", "render/font", "render/page"},
	"render/connector":  {"harness/unit", "harness/bench", "harness/face", "render/font", "render/page"},
	"render/export":     {"harness", "harness/*"},
	"render/common":     {"harness", "harness/*", "render/*"},
	"render/benchbook":  {"harness", "harness/*", "render/*"},
	"render/shellbook":  {"harness", "harness/*", "render/*"},
	"render/template":   {"harness/unit", "harness/shell", "harness/solid", "render/drawing", "render/page"},
	"render/section":    {"harness/unit", "harness/layup", "render/font", "render/page"},
	"render/board":      {"harness/unit", "harness/bench", "harness/board", "render/drawing", "render/page", "render/table"},
	"render/lidchart":   {"harness", "harness/*", "render/*"},
	"render/netlist":    {"harness/unit", "harness/solve"},
	"render/reviewbook": {"harness", "harness/*", "render/*"},

	"cmd/mutate":    {},
	"cmd/trial":     {"lang/trial"},
	"cmd/loomsheet": {"harness", "harness/*", "lang/*", "render", "render/*", "github.com/spf13/cobra", "golang.org/x/term"},
}

// only names the one room that may use a module from outside.
var only = map[string]string{
	"github.com/alecthomas/participle/v2": "lang/syntax",
	"github.com/jung-kurt/gofpdf":         "render/pdf",
	"github.com/spf13/cobra":              "cmd/loomsheet",
}

func TestArrows(t *testing.T) {
	root := filepath.Join("..", "..")
	seen := map[string]bool{}
	err := filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
			return err
		}
		rel, err := filepath.Rel(root, filepath.Dir(file))
		if err != nil {
			return err
		}
		room := filepath.ToSlash(rel)
		seen[room] = true
		allowed, ok := roomFor(room)
		if !ok {
			t.Errorf("%s is not in the table of rooms", room)
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, imp := range f.Imports {
			name, err := strconv.Unquote(imp.Path.Value)
			if err != nil {
				return err
			}
			if own, ok := strings.CutPrefix(name, "loomsheet/"); ok {
				if !allows(allowed, own) {
					t.Errorf("%s uses %s, which its room may not", file, own)
				}
				continue
			}
			if !strings.Contains(strings.Split(name, "/")[0], ".") {
				continue // the standard library
			}
			for module, where := range only {
				if name == module || strings.HasPrefix(name, module+"/") {
					if where != room {
						t.Errorf("%s uses %s, only %s may", file, name, where)
					}
					allowed = append(slices.Clone(allowed), module)
				}
			}
			if !allows(allowed, name) {
				t.Errorf("%s uses %s, which its room may not", file, name)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(seen) < 10 {
		t.Fatalf("only %d rooms found", len(seen))
	}
}

func roomFor(room string) ([]string, bool) {
	if a, ok := arrows[room]; ok {
		return a, true
	}
	for p := room; p != "."; p = path.Dir(p) {
		if a, ok := arrows[path.Dir(p)+"/*"]; ok {
			return a, true
		}
	}
	return nil, false
}

func allows(allowed []string, name string) bool {
	for _, a := range allowed {
		if dir, ok := strings.CutSuffix(a, "/*"); ok && strings.HasPrefix(name, dir+"/") || a == name || strings.Contains(a, ".") && strings.HasPrefix(name, a+"/") {
			return true
		}
	}
	return false
}

// TestTop keeps the top level to what the house has.
func TestTop(t *testing.T) {
	want := []string{".ci", ".gitignore", "DEVELOPERS.md", "README.md", "cmd", "examples", "go.mod", "go.sum", "harness", "lang", "render", "testdata"}
	entries, err := os.ReadDir(filepath.Join("..", ".."))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Name() != ".git" && e.Name() != "out" && e.Name() != ".gitattributes" && !slices.Contains(want, e.Name()) {
			t.Errorf("%s does not belong to the top level", e.Name())
		}
	}
}
