package export

import (
	"encoding/json"
	"io"
	"math"
	"reflect"
	"strconv"
	"strings"
	"unicode/utf8"
)

// out is a text of nested values on its way, indented by a space a level: what json.MarshalIndent would write, but that makes each text twice and reads it
// over to indent it.
type out struct {
	w    io.Writer
	b    []byte // to be written
	keys map[reflect.Type][]string
	err  error
}

const outSize = 1 << 16

func newOut(w io.Writer) *out {
	return &out{w: w, b: make([]byte, 0, outSize+outSize/4), keys: map[reflect.Type][]string{}}
}

func (o *out) text(s string) { o.b = append(o.b, s...) }

func (o *out) flush() error {
	if o.err == nil {
		_, o.err = o.w.Write(o.b)
	}
	o.b = o.b[:0]
	return o.err
}

const spaces = "                                "

// line begins a line.
func (o *out) line(depth int) {
	if len(o.b) >= outSize {
		o.flush()
	}
	o.text("\n")
	for ; depth > len(spaces); depth -= len(spaces) {
		o.text(spaces)
	}
	o.text(spaces[:depth])
}

// fields is the keys of a record, as they are written.
func (o *out) fields(t reflect.Type) []string {
	keys, ok := o.keys[t]
	if !ok {
		for i := range t.NumField() {
			keys = append(keys, `"`+t.Field(i).Tag.Get("json")+`": `)
		}
		o.keys[t] = keys
	}
	return keys
}

func (o *out) field(key string, first bool, depth int) {
	if !first {
		o.text(",")
	}
	o.line(depth)
	o.text(key)
}

func (o *out) list(n, depth int, element func(i int) reflect.Value) {
	if n == 0 {
		o.text("[]")
		return
	}
	o.text("[")
	for i := range n {
		if i > 0 {
			o.text(",")
		}
		o.line(depth + 1)
		o.value(element(i), depth+1)
	}
	o.line(depth)
	o.text("]")
}

func (o *out) value(v reflect.Value, depth int) {
	switch kind := v.Kind(); {
	case kind == reflect.Slice && v.IsNil():
		o.text("null")
	case kind == reflect.Slice, kind == reflect.Array:
		o.list(v.Len(), depth, v.Index)
	case kind == reflect.Struct:
		o.text("{")
		for i, key := range o.fields(v.Type()) {
			o.field(key, i == 0, depth+1)
			o.value(v.Field(i), depth+1)
		}
		o.line(depth)
		o.text("}")
	case kind == reflect.String:
		o.words(v.String())
	case kind == reflect.Bool:
		o.b = strconv.AppendBool(o.b, v.Bool())
	case v.CanInt():
		o.b = strconv.AppendInt(o.b, v.Int(), 10)
	case kind == reflect.Float64:
		o.number(v.Float())
	default:
		o.plain(v.Interface(), depth)
	}
}

// plain leaves it to the encoder of the standard library.
func (o *out) plain(x any, depth int) {
	data, err := json.MarshalIndent(x, strings.Repeat(" ", depth), " ")
	if o.err == nil {
		o.err = err
	}
	o.b = append(o.b, data...)
}

// number writes what needs no exponent.
func (o *out) number(x float64) {
	if size := math.Abs(x); x != 0 && !(size >= 1e-6 && size < 1e21) {
		o.plain(x, 0)
		return
	}
	o.b = strconv.AppendFloat(o.b, x, 'f', -1, 64)
}

// words writes a text of which no letter has to be put otherwise.
func (o *out) words(s string) {
	for i := 0; i < len(s); {
		c, n := rune(s[i]), 1
		if c >= utf8.RuneSelf {
			c, n = utf8.DecodeRuneInString(s[i:])
		}
		switch {
		case c < ' ', c == '"', c == '\\', c == '<', c == '>', c == '&', c == utf8.RuneError, c == 0x2028, c == 0x2029:
			o.plain(s, 0)
			return
		}
		i += n
	}
	o.b = append(append(append(o.b, '"'), s...), '"')
}
