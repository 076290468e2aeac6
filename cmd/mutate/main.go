// Mutate changes one operator or number of a package at a time and sees whether the package's tests notice.
//
//	go run ./cmd/mutate -packages harness/solve,harness/heat -share 0.1 -seed 1
//	go run ./cmd/mutate -packages harness/unit -number 30 -tests harness/size
//
// It is run at the top of the module and writes nothing there. A mutant that does not build is not counted; one that makes the tests run into their limit of
// time or memory counts as killed. Survivors are printed by place: each is a gap in the tests, a change without a meaning, or code that does nothing.
package main

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"sync"
	"time"
)

func main() {
	packages := flag.String("packages", "", "folders of packages to change, with commas between")
	share := flag.Float64("share", 1, "share of the mutants of each package to try")
	number := flag.Int("number", 0, "number of mutants of each package to try, in place of a share")
	seed := flag.Uint64("seed", 1, "which ones")
	tests := flag.String("tests", "", "folders whose tests are run as well where a package's own pass")
	each := flag.Duration("quick", time.Second, "tests that take no longer are run first")
	leave := flag.String("leave", "", "pattern of tests to leave out")
	at := flag.String("at", "", "try only mutants whose line begins so, as it is printed: file, file:line ...; with commas between")
	jobs := flag.Int("jobs", 2, "mutants tried at the same time")
	memory := flag.Int("memory", 6, "GiB a run of tests may take")
	list := flag.Bool("list", false, "list the mutants and try none")
	flag.Parse()

	var sum tally
	for _, dir := range split(*packages) {
		all, err := inPackage(dir)
		quit(err)
		order := shuffled(all, dir, *seed)
		want := wanted(len(all), *share, *number)
		if *at != "" {
			order = placed(order, *at)
			want = len(order)
		}
		if *list {
			for _, m := range order[:want] {
				fmt.Println(m)
			}
			continue
		}
		var benches []*bench
		for _, d := range append([]string{dir}, split(*tests)...) {
			tmp, err := os.MkdirTemp("", "mutate")
			quit(err)
			b, err := newBench(d, tmp, *leave, *each, *seed, *memory)
			os.RemoveAll(tmp)
			quit(err)
			benches = append(benches, b)
		}
		t := tryAll(order, want, *jobs, func(m Mutant) (string, error) { return try(m, benches) })
		t.name, t.found = dir, len(all)
		fmt.Println(t.report())
		sum.add(t)
	}
	if !*list {
		sum.name = "together"
		fmt.Println(sum.line())
	}
}

// tryAll tries mutants in their order until as many as wanted were built, jobs at a time; the result does not depend on which ends first.
func tryAll(order []Mutant, want, jobs int, try func(Mutant) (string, error)) tally {
	var t tally
	for len(order) > 0 && t.built() < want {
		n := min(want-t.built(), len(order))
		how := make([]string, n)
		errs := make([]error, n)
		var wg sync.WaitGroup
		next := make(chan int)
		for range jobs {
			wg.Go(func() {
				for i := range next {
					how[i], errs[i] = try(order[i])
					fmt.Fprintf(os.Stderr, "%s %s\n", how[i], order[i])
				}
			})
		}
		for i := range n {
			next <- i
		}
		close(next)
		wg.Wait()
		for i := range n {
			quit(errs[i])
			t.count(order[i], how[i])
		}
		order = order[n:]
	}
	return t
}

// placed is the mutants whose line begins with one of the texts; what ends in a number must end there.
func placed(all []Mutant, at string) []Mutant {
	var out []Mutant
	for _, m := range all {
		for _, a := range strings.Split(at, ",") {
			rest, ok := strings.CutPrefix(m.String(), strings.TrimSpace(a))
			if ok && (rest == "" || strings.ContainsAny(rest[:1], ": ")) {
				out = append(out, m)
				break
			}
		}
	}
	return out
}

func split(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ' ' })
}

func quit(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
}
