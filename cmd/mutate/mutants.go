package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"strconv"
	"strings"
)

// A Mutant is one change of one file: the bytes from From up to To become Is.
type Mutant struct {
	File      string
	Line, Col int
	Func      string // the function it stands in, "" at the top of the file
	Kind      string // sign, edge, turn, logic, number, step, drop, call
	Was, Is   string
	From, To  int
	Key       string // names the mutant by what is around it, so that an edit elsewhere does not rename it
}

func (m Mutant) String() string {
	where := m.Func
	if where == "" {
		where = "-"
	}
	is := m.Is
	if is == "" {
		is = "nothing"
	}
	return fmt.Sprintf("%s:%d:%d %s %s: %s becomes %s", m.File, m.Line, m.Col, where, m.Kind, m.Was, is)
}

// swaps is what each operator becomes: arithmetic the other way, a limit with its edge in or out (edge), a comparison turned round (turn).
var swaps = map[token.Token][]struct {
	kind string
	to   token.Token
}{
	token.ADD:        {{"sign", token.SUB}},
	token.SUB:        {{"sign", token.ADD}},
	token.MUL:        {{"sign", token.QUO}},
	token.QUO:        {{"sign", token.MUL}},
	token.ADD_ASSIGN: {{"sign", token.SUB_ASSIGN}},
	token.SUB_ASSIGN: {{"sign", token.ADD_ASSIGN}},
	token.MUL_ASSIGN: {{"sign", token.QUO_ASSIGN}},
	token.QUO_ASSIGN: {{"sign", token.MUL_ASSIGN}},
	token.LSS:        {{"edge", token.LEQ}, {"turn", token.GEQ}},
	token.LEQ:        {{"edge", token.LSS}, {"turn", token.GTR}},
	token.GTR:        {{"edge", token.GEQ}, {"turn", token.LEQ}},
	token.GEQ:        {{"edge", token.GTR}, {"turn", token.LSS}},
	token.EQL:        {{"turn", token.NEQ}},
	token.NEQ:        {{"turn", token.EQL}},
	token.LAND:       {{"logic", token.LOR}},
	token.LOR:        {{"logic", token.LAND}},
	token.INC:        {{"step", token.DEC}},
	token.DEC:        {{"step", token.INC}},
}

// calls is which function becomes which; a name without a package is a builtin.
var calls = map[string]string{
	"min": "max", "max": "min",
	"math.Min": "Max", "math.Max": "Min",
	"math.Floor": "Ceil", "math.Ceil": "Floor",
	"math.Sin": "Cos", "math.Cos": "Sin",
}

// Mutants lists every mutant of a file in the order of its text.
func Mutants(file string, src []byte) ([]Mutant, error) {
	fset := token.NewFileSet()
	tree, err := parser.ParseFile(fset, file, src, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	f := finder{fset: fset, src: src, file: file, seen: map[string]int{}}
	for _, d := range tree.Decls {
		f.fn = ""
		if fd, ok := d.(*ast.FuncDecl); ok {
			f.fn = fd.Name.Name
			if fd.Recv != nil && len(fd.Recv.List) == 1 {
				f.fn = strings.TrimPrefix(f.text(fd.Recv.List[0].Type), "*") + "." + f.fn
			}
		}
		ast.Inspect(d, f.visit)
	}
	return f.found, nil
}

type finder struct {
	fset  *token.FileSet
	src   []byte
	file  string
	fn    string
	seen  map[string]int
	found []Mutant
}

func (f *finder) text(n ast.Node) string {
	return string(f.src[f.offset(n.Pos()):f.offset(n.End())])
}

func (f *finder) offset(p token.Pos) int { return f.fset.Position(p).Offset }

// add notes a mutant; around is the piece of text that names it.
func (f *finder) add(kind string, at token.Pos, was, is string, around ast.Node) {
	p := f.fset.Position(at)
	key := fmt.Sprintf("%s|%s|%s|%s|%s", f.fn, kind, was, is, f.text(around))
	f.seen[key]++
	f.found = append(f.found, Mutant{
		File: f.file, Line: p.Line, Col: p.Column, Func: f.fn, Kind: kind, Was: was, Is: is,
		From: p.Offset, To: p.Offset + len(was), Key: fmt.Sprintf("%s|%d", key, f.seen[key]),
	})
}

func (f *finder) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.BinaryExpr:
		if n.Op == token.ADD && (isText(n.X) || isText(n.Y)) {
			break
		}
		f.swap(n.OpPos, n.Op, n)
	case *ast.AssignStmt:
		if len(n.Rhs) == 1 && !isText(n.Rhs[0]) {
			f.swap(n.TokPos, n.Tok, n)
		}
	case *ast.IncDecStmt:
		f.swap(n.TokPos, n.Tok, n)
	case *ast.UnaryExpr:
		if n.Op == token.SUB || n.Op == token.NOT {
			f.add("drop", n.OpPos, n.Op.String(), "", n)
		}
	case *ast.BasicLit:
		if is := offByOne(n); is != "" {
			f.add("number", n.ValuePos, n.Value, is, n)
		}
	case *ast.CallExpr:
		if name, ok := n.Fun.(*ast.Ident); ok && name.Name == "make" {
			f.visitMake(n)
			return false
		}
		f.call(n)
	case *ast.ImportSpec:
		return false
	case *ast.Field:
		if n.Tag != nil { // a tag is no number, the type may hold one
			ast.Inspect(n.Type, f.visit)
			return false
		}
	}
	return true
}

// visitMake leaves out how much room is made beforehand, which changes no result.
func (f *finder) visitMake(n *ast.CallExpr) {
	args := n.Args
	if _, ok := args[0].(*ast.MapType); ok {
		args = args[:1]
	}
	for _, a := range args[:min(2, len(args))] {
		ast.Inspect(a, f.visit)
	}
}

func (f *finder) swap(at token.Pos, op token.Token, around ast.Node) {
	for _, s := range swaps[op] {
		f.add(s.kind, at, op.String(), s.to.String(), around)
	}
}

func (f *finder) call(n *ast.CallExpr) {
	switch fun := n.Fun.(type) {
	case *ast.Ident:
		if to, ok := calls[fun.Name]; ok {
			f.add("call", fun.NamePos, fun.Name, to, n)
		}
	case *ast.SelectorExpr:
		if pkg, ok := fun.X.(*ast.Ident); ok {
			if to, ok := calls[pkg.Name+"."+fun.Sel.Name]; ok {
				f.add("call", fun.Sel.NamePos, fun.Sel.Name, to, n)
			}
		}
	}
}

// isText tells if an expression is a text by its look: a text between quotes, or a sum with one.
func isText(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.BasicLit:
		return e.Kind == token.STRING
	case *ast.BinaryExpr:
		return e.Op == token.ADD && (isText(e.X) || isText(e.Y))
	case *ast.ParenExpr:
		return isText(e.X)
	}
	return false
}

// offByOne is a number one greater, "" where there is none; a number with a point keeps one, so that its type stays.
func offByOne(n *ast.BasicLit) string {
	switch n.Kind {
	case token.INT:
		if v, err := strconv.ParseInt(n.Value, 0, 64); err == nil && v < math.MaxInt64 {
			return strconv.FormatInt(v+1, 10)
		}
	case token.FLOAT:
		v, err := strconv.ParseFloat(n.Value, 64)
		if err != nil || v+1 == v {
			return ""
		}
		s := strconv.FormatFloat(v+1, 'g', -1, 64)
		if !strings.ContainsAny(s, ".e") {
			s += ".0"
		}
		return s
	}
	return ""
}
