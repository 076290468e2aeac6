package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// How a mutant ended.
const (
	killed   = "killed"
	timedOut = "timed out"
	survived = "survived"
	notBuilt = "not built"
)

// A bench holds how one package's tests are run.
type bench struct {
	dir    string
	flags  []string
	passes []pass
	memory int // GiB of address space a run may take, where the system can limit it
}

// A pass is a part of the tests; the quick ones come first, the slow ones only see what survives them.
type pass struct {
	pattern string        // "" means all
	limit   time.Duration // five times what the tests take as they are, and ten seconds
}

// newBench runs the tests of a folder as they are: they must pass, and their times say which are quick.
func newBench(dir, tmp, leave string, each time.Duration, seed uint64, memory int) (*bench, error) {
	b := &bench{dir: dir, memory: memory, flags: []string{"-test.failfast"}}
	tests, err := filepath.Glob(filepath.Join(dir, "*_test.go"))
	if err != nil {
		return nil, err
	}
	for _, t := range tests {
		src, err := os.ReadFile(t)
		if err != nil {
			return nil, err
		}
		if strings.Contains(string(src), `"pgregory.net/rapid"`) { // the same draws each time, no files of failures, no search for a smaller one
			b.flags = append(b.flags, "-rapid.seed="+strconv.FormatUint(seed+1, 10), "-rapid.nofailfile", "-rapid.shrinktime=1ms")
			break
		}
	}
	if leave != "" {
		b.flags = append(b.flags, "-test.skip="+leave)
	}
	bin, out, err := b.build(tmp, "")
	if err != nil {
		return nil, fmt.Errorf("%s does not build: %s", dir, out)
	}
	began := time.Now()
	out, err = b.run(bin, pass{limit: 20 * time.Minute}, "-test.v")
	if err != nil {
		return nil, fmt.Errorf("%s fails as it is: %s", dir, tail(out))
	}
	took := time.Since(began)
	var quick, slow []string
	long := 0.0
	for _, m := range regexp.MustCompile(`(?m)^--- (?:PASS|SKIP): (\S+) \(([0-9.]+)s\)`).FindAllStringSubmatch(out, -1) {
		s, err := strconv.ParseFloat(m[2], 64)
		if err != nil {
			return nil, err
		}
		if s > each.Seconds() {
			slow = append(slow, m[1])
			long += s
		} else {
			quick = append(quick, m[1])
		}
	}
	b.passes = passes(quick, slow, took, time.Duration(long*float64(time.Second)))
	return b, nil
}

// passes parts the tests, all of which took so long, the slow ones long of it.
func passes(quick, slow []string, took, long time.Duration) []pass {
	limit := func(d time.Duration) time.Duration { return 5*d + 10*time.Second }
	if len(slow) == 0 || len(quick) == 0 {
		return []pass{{limit: limit(took)}}
	}
	pattern := func(names []string) string {
		slices.Sort(names)
		return "^(" + strings.Join(names, "|") + ")$"
	}
	return []pass{{pattern(quick), limit(took - min(long, took))}, {pattern(slow), limit(long)}}
}

// build makes the test program of the folder, with files of overlay in place of the ones on disk.
func (b *bench) build(tmp, overlay string) (bin, out string, err error) {
	bin = filepath.Join(tmp, "tests")
	args := []string{"test", "-c", "-vet=off", "-ldflags=-s -w", "-o", bin}
	if overlay != "" {
		args = append(args, "-overlay", overlay)
	}
	raw, err := exec.Command("go", append(args, "./"+b.dir)...).CombinedOutput()
	return bin, string(raw), err
}

// run runs the test program within the limits of time and memory.
func (b *bench) run(bin string, p pass, more ...string) (string, error) {
	args := slices.Concat(b.flags, more, []string{"-test.timeout=" + p.limit.String()})
	if p.pattern != "" {
		args = append(args, "-test.run="+p.pattern)
	}
	// the program's own clock comes first; this one is for a program that does not listen to it
	ctx, cancel := context.WithTimeout(context.Background(), p.limit+5*time.Second)
	defer cancel()
	name := bin
	if limit, err := exec.LookPath("prlimit"); err == nil && b.memory > 0 {
		args = append([]string{fmt.Sprintf("--as=%d", b.memory<<30), bin}, args...)
		name = limit
	}
	c := exec.CommandContext(ctx, name, args...)
	c.Dir = b.dir
	c.WaitDelay = time.Second
	out, err := c.CombinedOutput()
	if ctx.Err() != nil {
		return string(out) + "\npanic: test timed out", errors.Join(err, ctx.Err())
	}
	return string(out), err
}

// judge is how the tests end that the mutated text is built with.
func (b *bench) judge(tmp, overlay string) string {
	bin, _, err := b.build(tmp, overlay)
	if err != nil {
		return notBuilt
	}
	for _, p := range b.passes {
		if out, err := b.run(bin, p); err != nil {
			if strings.Contains(out, "panic: test timed out") {
				return timedOut
			}
			return killed
		}
	}
	return survived
}

// try writes the mutated text to a folder of its own and runs the benches in turn until one notices.
func try(m Mutant, benches []*bench) (string, error) {
	tmp, err := os.MkdirTemp("", "mutate")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(tmp)
	src, err := os.ReadFile(m.File)
	if err != nil {
		return "", err
	}
	text := string(src[:m.From]) + m.Is + string(src[m.To:])
	file := filepath.Join(tmp, "mutated.go")
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		return "", err
	}
	from, err := filepath.Abs(m.File)
	if err != nil {
		return "", err
	}
	list, err := json.Marshal(map[string]map[string]string{"Replace": {from: file}})
	if err != nil {
		return "", err
	}
	overlay := filepath.Join(tmp, "overlay.json")
	if err := os.WriteFile(overlay, list, 0o600); err != nil {
		return "", err
	}
	for _, b := range benches {
		if how := b.judge(tmp, overlay); how != survived {
			return how, nil
		}
	}
	return survived, nil
}

func tail(s string) string {
	lines := strings.Split(strings.TrimSpace(s), "\n")
	return strings.Join(lines[max(0, len(lines)-20):], "\n")
}
