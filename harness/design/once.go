package design

import "slices"

// Once holds each text a single time: many rows of a plan say the same.
type Once map[string]string

// Text is a text as it was said before, if it was.
func (o Once) Text(text string) string {
	if old, ok := o[text]; ok {
		return old
	}
	o[text] = text
	return text
}

// Texts makes texts those that were said before.
func (o Once) Texts(texts ...*string) {
	for _, t := range texts {
		*t = o.Text(*t)
	}
}

// Exact is a list without the room that it grew into.
func Exact[T any](list []T) []T {
	if len(list) == cap(list) {
		return list
	}
	return slices.Clone(list)
}
