package pdf

import (
	"strconv"

	"loomsheet/render/font"
)

// letters is which letters of a face a file has.
type letters [1 << 16 / 64]uint64

// add notes the letters of s, and tells whether one of them is new.
func (l *letters) add(s string) (fresh bool) {
	for _, r := range s {
		at, bit := &l[uint16(r)>>6], uint64(1)<<(r&63)
		fresh = fresh || *at&bit == 0
		*at |= bit
	}
	return fresh
}

// run sets s in the face that is chosen. The library notes each letter for its cut of the face, once for each time that it is printed; a run without a new
// one is handed over in the words that the library would use.
func (w *writer) run(f font.Face, x, y float64, s string) {
	have := w.letters[f]
	if have == nil {
		have = new(letters)
		w.letters[f] = have
	}
	if have.add(s) {
		w.pdf.Text(x, y, s)
		return
	}
	k := w.pdf.GetConversionRatio()
	_, h := w.pdf.GetPageSize()
	b := append(w.words[:0], "BT "...)
	b = append(strconv.AppendFloat(b, x*k, 'f', 2, 64), ' ')
	b = append(strconv.AppendFloat(b, (h-y)*k, 'f', 2, 64), " Td ("...)
	for _, r := range s {
		b = letter(letter(b, byte(r>>8)), byte(r))
	}
	w.words = append(b, ") Tj ET"...)
	w.reader.Reset(w.words)
	w.pdf.RawWriteBuf(&w.reader)
}

// letter appends half a letter of a string.
func letter(b []byte, c byte) []byte {
	switch c {
	case '\\', '(', ')':
		return append(b, '\\', c)
	case '\r':
		return append(b, '\\', 'r')
	}
	return append(b, c)
}
