package solve

// meshes numbers the branches round which one current can run: two of the same number lie on a closed way that passes no node twice. Open ones, and those on
// no closed way, have -1. They are the blocks of the net, found depth first (Hopcroft and Tarjan 1973, from memory).
func meshes(nodes int, br []branch) []int32 {
	of := make([]int32, len(br))
	first := make([]int32, nodes+1)
	for i := range br {
		of[i] = -1
		if b := &br[i]; b.law != open && b.from != b.to {
			first[b.from]++
			first[b.to]++
		}
	}
	sum := int32(0)
	for n, c := range first {
		first[n] = sum
		sum += c
	}
	at, next := make([]int32, sum), append([]int32(nil), first...)
	for i := range br {
		if b := &br[i]; b.law != open && b.from != b.to {
			for _, n := range [2]int{int(b.from), int(b.to)} {
				at[next[n]] = int32(i)
				next[n]++
			}
		}
	}
	copy(next, first)
	type step struct{ node, by int32 } // by: the branch it was come by, -1 at the root
	var way []step
	var met []int32 // branches not yet in a block, as they were met
	seen, low := make([]int32, nodes), make([]int32, nodes)
	count, blocks := int32(0), int32(0)
	for root := range nodes {
		if seen[root] != 0 {
			continue
		}
		count++
		seen[root], low[root] = count, count
		way = append(way[:0], step{int32(root), -1})
		for len(way) > 0 {
			s := way[len(way)-1]
			n := s.node
			if next[n] < first[n+1] {
				e := at[next[n]]
				next[n]++
				to := int32(br[e].from)
				if to == n {
					to = int32(br[e].to)
				}
				switch {
				case e == s.by:
				case seen[to] == 0:
					count++
					seen[to], low[to] = count, count
					met, way = append(met, e), append(way, step{to, e})
				case seen[to] < seen[n]:
					met = append(met, e)
					low[n] = min(low[n], seen[to])
				}
				continue
			}
			if way = way[:len(way)-1]; len(way) == 0 {
				break
			}
			p := way[len(way)-1].node
			low[p] = min(low[p], low[n])
			if low[n] < seen[p] {
				continue
			}
			last := len(met) - 1
			for met[last] != s.by {
				last--
			}
			if len(met)-last > 1 {
				for _, e := range met[last:] {
					of[e] = blocks
				}
				blocks++
			}
			met = met[:last]
		}
	}
	return of
}
