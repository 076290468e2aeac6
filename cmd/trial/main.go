// Command trial writes a realistic invented harness of any size, to measure and try the compiler with.
package main

import (
	"flag"
	"fmt"

	"loomsheet/lang/trial"
)

func main() {
	wires := flag.Int("wires", 300, "about how many wires")
	seed := flag.Uint64("seed", 1, "of what the seed decides")
	flag.Parse()
	fmt.Print(trial.Text(*seed, *wires))
}
