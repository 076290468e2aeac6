package resolve

import (
	"errors"
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"loomsheet/harness/diag"
	"loomsheet/lang/parts"
)

var update = flag.Bool("update", false, "write the wanted messages anew")

const wrongDir = "../../testdata/wrong"

// knownFindings is what the wrong files may accept.
var knownFindings = []string{"bend-too-tight", "cable-apart", "no-fuse", "splice-alone"}

// codeOf is the code that a wrong file shows, by its name: the code, and a number where it has several files.
func codeOf(file string) string {
	n := strings.TrimSuffix(filepath.Base(file), ".loom")
	if i := strings.LastIndexByte(n, '-'); i > 0 && strings.Trim(n[i+1:], "0123456789") == "" {
		n = n[:i]
	}
	return n
}

// Each wrong file holds one mistake, named by the file, and gives one message, which stands beside it; a file several-.. holds more.
func TestWrong(t *testing.T) {
	files, err := filepath.Glob(wrongDir + "/*.loom")
	if err != nil || len(files) < 70 {
		t.Fatal(len(files), err)
	}
	for _, f := range files {
		name := filepath.Base(f)
		_, src, ds := Job(name, fromDir(wrongDir), parts.Files(), knownFindings)
		got := show(src, ds)
		if code := codeOf(f); strings.HasPrefix(code, "several-") && code != "several-values" {
			if len(ds) != 6 {
				t.Errorf("%s: %d messages, want 6:\n%s", name, len(ds), got)
			}
		} else if len(ds) != 1 || ds[0].Code != code {
			t.Errorf("%s: want one message, %s:\n%s", name, code, got)
		}
		want := strings.TrimSuffix(f, ".loom") + ".want"
		if *update {
			if err := os.WriteFile(want, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		old, err := os.ReadFile(want)
		if err != nil || string(old) != got {
			t.Errorf("%s: want\n%s got\n%s", name, old, got)
		}
	}
	wants, _ := filepath.Glob(wrongDir + "/*.want")
	if len(wants) != len(files) {
		t.Errorf("%d files of wanted messages for %d wrong files", len(wants), len(files))
	}
}

// made is wrong texts too large, or too much in need of help, for a file.
var made = map[string]func(t *testing.T) string{
	"too-many-mistakes": func(*testing.T) string { return "harness \"Wrong\"\n" + strings.Repeat("}\n", 1001) },
	"text-too-long":     func(*testing.T) string { return "harness \"" + strings.Repeat("Wrong ", 400) + "\"\n" },
	"line-too-long": func(*testing.T) string {
		return "harness \"Wrong\"\nsection n, " + strings.Repeat("a, ", 12000) + "b\n"
	},
	"too-deep": func(*testing.T) string {
		return "harness \"Wrong\"\n" + strings.Repeat(" case x {\n", 9) + strings.Repeat(" }\n", 9)
	},
	"too-much": func(*testing.T) string {
		return "harness \"Wrong\"\ntemplate t takes n {\n" + strings.Repeat("  section s-[n]-[1..9000]\n", 3) + "  point p-[n]-[1..9000] at (0, 0, 0 mm)\n}\n" +
			strings.Repeat("use t n a\n", 9)
	},
}

func TestMadeWrong(t *testing.T) {
	for code, f := range made {
		_, src, ds := text(t, f(t))
		if !slices.ContainsFunc(ds, func(d diag.Diagnostic) bool { return d.Code == code }) {
			t.Errorf("want %s: %.2000s", code, show(src, ds))
		}
	}
	_, src, ds := Job("job.loom", func(p string) ([]byte, error) { return nil, errors.New("the disk is gone") }, parts.Files(), nil)
	if len(ds) != 1 || ds[0].Code != "file-unreadable" || ds[0].Detail != "the disk is gone" {
		t.Error(show(src, ds))
	}
}

// Every code has a wrong file, every wrong file shows a code, and no code in the source is missing from the list.
func TestCodesCovered(t *testing.T) {
	all := AllCodes()
	shown := map[string]bool{"file-unreadable": true, "file-again": true}
	for c := range made {
		shown[c] = true
	}
	files, _ := filepath.Glob(wrongDir + "/*.loom")
	for _, f := range files {
		shown[codeOf(f)] = true
	}
	for _, c := range all {
		if !shown[c] {
			t.Errorf("no wrong file shows %s", c)
		}
	}
	for c := range shown {
		if !slices.Contains(all, c) && c != "several-six" {
			t.Errorf("%s is no code", c)
		}
	}
	for _, dir := range []string{".", "../sense", "../expand"} {
		for _, c := range codesIn(t, dir) {
			if !slices.Contains(all, c) {
				t.Errorf("%s in %s is not in the list of codes", c, dir)
			}
		}
	}
}

// codesIn lists the codes that stand as literals in calls that make messages.
func codesIn(t *testing.T, dir string) []string {
	files, err := filepath.Glob(dir + "/*.go")
	if err != nil {
		t.Fatal(err)
	}
	makers := map[string]int{"Mistake": 1, "Finding": 1, "mistake": 2, "miss": 3, "fault": 0}
	var out []string
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), f, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			name := ""
			switch fn := call.Fun.(type) {
			case *ast.SelectorExpr:
				name = fn.Sel.Name
			case *ast.Ident:
				name = fn.Name
			}
			at, ok := makers[name]
			if !ok || at >= len(call.Args) {
				return true
			}
			if lit, ok := call.Args[at].(*ast.BasicLit); ok && lit.Kind == token.STRING {
				c, err := strconv.Unquote(lit.Value)
				if err != nil {
					t.Fatal(err)
				}
				out = append(out, c)
			}
			return true
		})
	}
	if len(out) < 5 {
		t.Errorf("only %d codes found in %s", len(out), dir)
	}
	return out
}
