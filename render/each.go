package render

import (
	"bytes"
	"io"
	"sync"
	"sync/atomic"
)

// File is one printed file, by its name within the folder of the books. It is written by WriteTo; Data is empty where the file is so large that it
// is put together while it is written.
type File struct {
	Name string
	Data []byte
	put  func(io.Writer) error
}

// WriteTo writes the file.
func (f File) WriteTo(w io.Writer) (int64, error) {
	n := &counted{w: w}
	if f.put != nil {
		err := f.put(n)
		return n.n, err
	}
	_, err := n.Write(f.Data)
	return n.n, err
}

// counted counts what is written.
type counted struct {
	w io.Writer
	n int64
}

func (c *counted) Write(p []byte) (int, error) {
	n, err := c.w.Write(p)
	c.n += int64(n)
	return n, err
}

// held is the file with all its bytes in Data.
func (f File) held() (File, error) {
	if f.put == nil {
		return f, nil
	}
	var b bytes.Buffer
	err := f.put(&b)
	return File{Name: f.Name, Data: b.Bytes()}, err
}

// step makes one file, or some that belong together, and gives each away as soon as it is there.
type step func(give func(File) error) error

const (
	hands = 2 // steps that are worked on at once
	ahead = 6 // steps that are finished or in work while another is waited for
)

// inOrder works through the steps, two at once, and hands their files over one at a time in the order of the steps. So no more than a few files are
// in memory at any time. The first error, in that order, ends it; nothing runs on when it returns.
func inOrder(steps []step, to func(File) error) error {
	var (
		next  atomic.Int64
		crew  sync.WaitGroup
		pipes = make([]chan File, len(steps))
		fails = make([]error, len(steps))
		room  = make(chan bool, ahead)
		quit  = make(chan bool)
	)
	for i := range pipes {
		pipes[i] = make(chan File, 1)
	}
	defer crew.Wait()
	defer close(quit)
	for range hands {
		crew.Go(func() {
			for {
				select {
				case room <- true:
				case <-quit:
					return
				}
				i := int(next.Add(1)) - 1
				if i >= len(steps) {
					return
				}
				fails[i] = steps[i](func(f File) error {
					select {
					case pipes[i] <- f:
						return nil
					case <-quit:
						return errQuit
					}
				})
				close(pipes[i])
			}
		})
	}
	for i, pipe := range pipes {
		for f := range pipe {
			if err := to(f); err != nil {
				return err
			}
		}
		if fails[i] != nil {
			return fails[i]
		}
		<-room
	}
	return nil
}
