// Package report turns messages into prose for a person and into JSON for a program.
package report

import (
	"sort"
	"strings"
	"unicode/utf8"

	"loomsheet/harness/diag"
)

// Files is the texts that messages point into, by the name used in spans.
type Files map[string][]byte

// Position is a place as a person counts: lines and columns from 1, columns in characters.
type Position struct{ Line, Column int }

// Position finds the line and column of an offset; ok is false if the file is not there. An offset outside the text counts as its
// nearest end.
func (f Files) Position(file string, offset int) (pos Position, ok bool) {
	text, ok := f[file]
	if !ok {
		return Position{}, false
	}
	return newSource(text).position(offset), true
}

// Finder is Position with the lines of each file found beforehand, for many questions; it may be asked from several goroutines.
func (f Files) Finder() func(file string, offset int) (Position, bool) {
	known := make(map[string]*source, len(f))
	for name, text := range f {
		known[name] = newSource(text)
	}
	return func(file string, offset int) (Position, bool) {
		s, ok := known[file]
		if !ok {
			return Position{}, false
		}
		return s.position(offset), true
	}
}

// source is a text with its lines found.
type source struct {
	text  string
	lines []int // offsets at which lines begin
}

const byteOrderMark = "\ufeff"

func newSource(text []byte) *source {
	s := &source{text: string(text)}
	start := 0
	if strings.HasPrefix(s.text, byteOrderMark) {
		start = len(byteOrderMark)
	}
	s.lines = []int{start}
	for i := start; i < len(s.text); i++ {
		if s.text[i] == '\n' {
			s.lines = append(s.lines, i+1)
		}
	}
	return s
}

func (s *source) clamp(offset int) int { return max(s.lines[0], min(offset, len(s.text))) }

// lineAt is the number of the line that holds an offset, from 0.
func (s *source) lineAt(offset int) int {
	return sort.Search(len(s.lines), func(i int) bool { return s.lines[i] > s.clamp(offset) }) - 1
}

// line is a line's text without its end.
func (s *source) line(n int) string {
	end := len(s.text)
	if n+1 < len(s.lines) {
		end = s.lines[n+1] - 1
	}
	return strings.TrimSuffix(s.text[s.lines[n]:end], "\r")
}

func (s *source) position(offset int) Position {
	offset = s.clamp(offset)
	n := s.lineAt(offset)
	return Position{n + 1, utf8.RuneCountInString(s.text[s.lines[n]:offset]) + 1}
}

// sources finds the lines of each file once.
type sources struct {
	files Files
	known map[string]*source
}

func newSources(f Files) *sources { return &sources{f, map[string]*source{}} }

// get is nil for a span that points nowhere or into a file whose text is not there.
func (s *sources) get(span diag.Span) *source {
	if span.IsZero() {
		return nil
	}
	if src, ok := s.known[span.File.String()]; ok {
		return src
	}
	text, ok := s.files[span.File.String()]
	if !ok {
		return nil
	}
	src := newSource(text)
	s.known[span.File.String()] = src
	return src
}
