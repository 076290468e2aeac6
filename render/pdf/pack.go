package pdf

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"strconv"
	"sync"
)

// The library holds every page plain until the end, then the whole file plain as well, and makes a compressor of more than a megabyte for each page. So its
// pages stay empty; what is on them comes packed, by a compressor that is used again: the same bytes as it would write itself, for a tenth of the memory.

var errPack = errors.New("the writer's file is not laid out as it was expected")

// packer is a compressor and where it writes to.
type packer struct {
	z   *zlib.Writer
	out bytes.Buffer
}

var packers = sync.Pool{New: func() any {
	p := &packer{}
	p.z, _ = zlib.NewWriterLevel(&p.out, zlib.BestSpeed)
	return p
}}

// packPage packs what is drawn on a page.
func packPage(plain []byte) ([]byte, error) {
	p := packers.Get().(*packer)
	defer packers.Put(p)
	p.out.Reset()
	p.z.Reset(&p.out)
	if _, err := p.z.Write(plain); err != nil {
		return nil, err
	}
	err := p.z.Close()
	return bytes.Clone(p.out.Bytes()), err
}

// packing puts packed pages into the file that is written to it. The library hands it over whole, in one piece: no copy of that is made.
type packing struct {
	pages [][]byte
	out   []byte
}

func (p *packing) Write(file []byte) (n int, err error) {
	if p.out != nil {
		return 0, errPack
	}
	p.out, err = pack(file, p.pages)
	return len(file), err
}

// pack copies a file with empty pages and puts the packed ones in. In it objects 1 and 2 are common to all, and each page is an object followed by one of its
// content.
func pack(file []byte, pages [][]byte) ([]byte, error) {
	at, tail, err := offsets(file)
	if err != nil || len(at) < 3+2*len(pages) {
		return nil, errPack
	}
	size := len(file)
	for _, p := range pages {
		size += len(p) + len("/Filter /FlateDecode ")
	}
	out := bytes.NewBuffer(make([]byte, 0, size))
	moved := make([]int, len(at))
	from := 0 // what is copied already
	for n, packed := range pages {
		k := 4 + 2*n
		head := fmt.Sprintf("%d 0 obj\n<</Length ", k)
		rest, ok := bytes.CutPrefix(file[at[k]:tail], []byte(head))
		digits := bytes.IndexByte(rest, '>')
		if !ok || digits < 0 {
			return nil, errPack
		}
		length, err := strconv.Atoi(string(rest[:digits]))
		rest, ok = bytes.CutPrefix(rest[digits:], []byte(">>\nstream\n"))
		if err != nil || !ok || length > len(rest) || !bytes.HasPrefix(rest[length:], []byte("\nendstream\nendobj\n")) {
			return nil, errPack
		}
		out.Write(file[from:at[k]])
		moved[k-1], moved[k] = at[k-1]-at[k]+out.Len(), out.Len()
		fmt.Fprintf(out, "%d 0 obj\n<</Filter /FlateDecode /Length %d>>\nstream\n", k, len(packed))
		out.Write(packed)
		from = tail - len(rest) + length
	}
	shift := out.Len() - from
	for k := range at {
		if k < 3 || k > 2+2*len(pages) {
			moved[k] = at[k] + shift
		}
	}
	out.Write(file[from:tail])
	start := out.Len()
	fmt.Fprintf(out, "xref\n0 %d\n0000000000 65535 f \n", len(at))
	for _, o := range moved[1:] {
		fmt.Fprintf(out, "%010d 00000 n \n", o)
	}
	end := file[tail:]
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
