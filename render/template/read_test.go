package template

import (
	"bytes"
	"compress/zlib"
	"image/png"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// streams inflates the streams of a PDF that can be.
func streams(data []byte) (out []string) {
	for {
		i := bytes.Index(data, []byte("stream\n"))
		if i < 0 {
			return out
		}
		data = data[i+len("stream\n"):]
		end := bytes.Index(data, []byte("endstream"))
		if end < 0 {
			return out
		}
		if r, err := zlib.NewReader(bytes.NewReader(data[:end])); err == nil {
			if s, err := io.ReadAll(r); err == nil {
				out = append(out, string(s))
			}
		}
		data = data[end+len("endstream"):]
	}
}

var stroke = regexp.MustCompile(`(-?[\d.]+) (-?[\d.]+) m (-?[\d.]+) (-?[\d.]+) l S`)

// turnedText is what is drawn under a matrix of its own.
var turnedText = regexp.MustCompile(`(?s)q [^Q]* cm.*?Q`)

// lines counts the level strokes of a given length among the path operators m, l, S of a content stream (ISO 32000-1, 8.5); a stream that sets
// a matrix for anything else is refused, for then its units are not those of the page.
func lines(s string, want, within float64) (n int) {
	plain := turnedText.ReplaceAllString(s, "")
	if strings.Contains(plain, " cm") {
		return 0
	}
	for _, m := range stroke.FindAllStringSubmatch(plain, -1) {
		var v [4]float64
		for i := range v {
			v[i], _ = strconv.ParseFloat(m[i+1], 64)
		}
		if v[1] == v[3] && math.Abs(math.Abs(v[2]-v[0])-want) <= within {
			n++
		}
	}
	return n
}

// longestRow is the longest run of dark dots on one row of a picture.
func longestRow(t *testing.T, data []byte) int {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	b, most := img.Bounds(), 0
	for y := b.Min.Y; y < b.Max.Y; y++ {
		run := 0
		for x := b.Min.X; x < b.Max.X; x++ {
			if r, _, _, _ := img.At(x, y).RGBA(); r < 0xc000 {
				run++
				most = max(most, run)
			} else {
				run = 0
			}
		}
	}
	return most
}
