package pdf

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"io"
	"strconv"
	"sync"
)

// The library makes a compressor of more than a megabyte for each page. So it writes the pages plain, and they are packed here with one that is used
// again: the same bytes as it would write itself, for a tenth of the memory asked of the heap.

var errPack = errors.New("the writer's file is not laid out as it was expected")

var packers = sync.Pool{New: func() any {
	z, _ := zlib.NewWriterLevel(io.Discard, zlib.BestSpeed)
	return z
}}

// packing packs the file that is written to it. The library hands it over whole, in one piece: no copy of that is made.
type packing struct {
	pages int
	out   []byte
}

func (p *packing) Write(plain []byte) (n int, err error) {
	if p.out != nil {
		return 0, errPack
	}
	p.out, err = pack(plain, p.pages)
	return len(plain), err
}

// pack copies a file with plain pages and compresses them. In it objects 1 and 2 are common to all, and each page is an object followed by one of its content.
func pack(plain []byte, pages int) ([]byte, error) {
	at, tail, err := offsets(plain)
	if err != nil || len(at) < 3+2*pages {
		return nil, errPack
	}
	out := bytes.NewBuffer(make([]byte, 0, len(plain)/4))
	moved := make([]int, len(at))
	from := 0 // what is copied already
	z := packers.Get().(*zlib.Writer)
	defer packers.Put(z)
	var packed bytes.Buffer
	for n := 0; n < pages; n++ {
		k := 4 + 2*n
		head := fmt.Sprintf("%d 0 obj\n<</Length ", k)
		rest, ok := bytes.CutPrefix(plain[at[k]:tail], []byte(head))
		digits := bytes.IndexByte(rest, '>')
		if !ok || digits < 0 {
			return nil, errPack
		}
		length, err := strconv.Atoi(string(rest[:digits]))
		rest, ok = bytes.CutPrefix(rest[digits:], []byte(">>\nstream\n"))
		if err != nil || !ok || length > len(rest) || !bytes.HasPrefix(rest[length:], []byte("\nendstream\nendobj\n")) {
			return nil, errPack
		}
		packed.Reset()
		z.Reset(&packed)
		if _, err := z.Write(rest[:length]); err != nil {
			return nil, err
		}
		if err := z.Close(); err != nil {
			return nil, err
		}
		out.Write(plain[from:at[k]])
		moved[k-1], moved[k] = at[k-1]-at[k]+out.Len(), out.Len()
		fmt.Fprintf(out, "%d 0 obj\n<</Filter /FlateDecode /Length %d>>\nstream\n", k, packed.Len())
		out.Write(packed.Bytes())
		from = tail - len(rest) + length
	}
	shift := out.Len() - from
	for k := range at {
		if k < 3 || k > 2+2*pages {
			moved[k] = at[k] + shift
		}
	}
	out.Write(plain[from:tail])
	start := out.Len()
	fmt.Fprintf(out, "xref\n0 %d\n0000000000 65535 f \n", len(at))
	for _, o := range moved[1:] {
		fmt.Fprintf(out, "%010d 00000 n \n", o)
	}
	end := plain[tail:]
	i, j := bytes.Index(end, []byte("trailer\n")), bytes.LastIndex(end, []byte("startxref\n"))
	if i < 0 || j < i {
		return nil, errPack
	}
	out.Write(end[i:j])
	fmt.Fprintf(out, "startxref\n%d\n%%%%EOF\n", start)
	return out.Bytes(), nil
}

// offsets reads where each object of a file stands, by its number, and where the table of them begins.
func offsets(file []byte) (at []int, table int, err error) {
	i := bytes.LastIndex(file, []byte("startxref\n"))
	if i < 0 {
		return nil, 0, errPack
	}
	var n int
	if _, err := fmt.Sscanf(string(file[i:]), "startxref\n%d\n", &table); err != nil || table < 0 || table > i {
		return nil, 0, errPack
	}
	if _, err := fmt.Sscanf(string(file[table:min(table+40, i)]), "xref\n0 %d\n", &n); err != nil {
		return nil, 0, errPack
	}
	const row = 20 // bytes of a line of the table
	rows := file[table+len(fmt.Sprintf("xref\n0 %d\n", n)):]
	if n < 1 || len(rows) < n*row {
		return nil, 0, errPack
	}
	at = make([]int, n)
	for k := 1; k < n; k++ {
		if at[k], err = strconv.Atoi(string(rows[k*row : k*row+10])); err != nil || at[k] < 0 || at[k] > table {
			return nil, 0, errPack
		}
	}
	return at, table, nil
}
