package harness

import "sync"

// roomy is the stage that needs most room of those beside which others run: it begins before they leave what they make.
const roomy = "free"

// beside runs the stages two at a time, each once those that it needs are done. Of those that can be run the one with the longest way to the end goes
// first, but the roomy one before all others. Stages read nothing but what they need and write nothing but their own part, so that the outcome is the same in every order.
func beside(stages []Stage, run func(Stage)) {
	var (
		lock    sync.Mutex
		changed = sync.NewCond(&lock)
		done    = map[string]bool{}
		ways    = waysToEnd(stages)
		left    = append([]Stage{}, stages...)
	)
	next := func() (at int) {
		at = -1
		for i, s := range left {
			if all(s.Needs, done) && (at < 0 || left[at].Name != roomy && (s.Name == roomy || ways[s.Name] > ways[left[at].Name])) {
				at = i
			}
		}
		return at
	}
	work := func() {
		lock.Lock()
		defer lock.Unlock()
		for len(left) > 0 {
			at := next()
			if at < 0 {
				changed.Wait()
				continue
			}
			s := left[at]
			left = append(left[:at], left[at+1:]...)
			lock.Unlock()
			run(s)
			lock.Lock()
			done[s.Name] = true
			changed.Broadcast()
		}
	}
	var both sync.WaitGroup
	both.Go(work)
	both.Go(work)
	both.Wait()
}

func all(names []string, in map[string]bool) bool {
	for _, n := range names {
		if !in[n] {
			return false
		}
	}
	return true
}

// waysToEnd is by the name of a stage the most stages that follow one another from it to the end.
func waysToEnd(stages []Stage) map[string]int {
	ways := map[string]int{}
	for i := len(stages) - 1; i >= 0; i-- {
		ways[stages[i].Name]++
		for _, n := range stages[i].Needs {
			ways[n] = max(ways[n], ways[stages[i].Name])
		}
	}
	return ways
}
