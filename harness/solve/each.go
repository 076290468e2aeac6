package solve

import "sync"

// Each runs n tasks, two at a time; each must read and write only what is its own, so that the outcome does not depend on their order.
func Each(n int, do func(i int)) {
	var wg sync.WaitGroup
	slots := make(chan bool, 2)
	for i := range n {
		wg.Add(1)
		slots <- true
		go func() {
			defer wg.Done()
			do(i)
			<-slots
		}()
	}
	wg.Wait()
}
