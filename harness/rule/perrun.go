package rule

import (
	"cmp"
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

// byRun groups what is wrong by the run, or whatever it concerns, in the order met; in a group the worst, with the least room, comes first.
func byRun[T any](list []T, name func(*T) string, room func(*T) unit.Length) [][]*T {
	var out [][]*T
	at := map[string]int{}
	for i := range list {
		n := name(&list[i])
		k, ok := at[n]
		if !ok {
			k = len(out)
			at[n] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], &list[i])
	}
	for _, g := range out {
		slices.SortStableFunc(g, func(a, b *T) int { return cmp.Compare(room(a), room(b)) })
	}
	return out
}

// others adds a clause on the rest of a group to a sentence.
func others[T any](group []*T, say func(*T) string) string {
	s := ""
	for i, x := range group[1:] {
		if i == 3 {
			return s + fmt.Sprintf(" And %d more.", len(group)-1-i)
		}
		if i == 0 {
			s += " Also "
		} else {
			s += "; "
		}
		s += say(x)
		if i == min(len(group)-2, 2) {
			s += "."
		}
	}
	return s
}

// mm is a length as the value of a finding.
func mm(l unit.Length) unit.Quantity { return unit.Quantity{Value: float64(l), Dim: unit.DimLength} }

// placeText is a place in words.
func placeText(p design.Point3) string {
	return fmt.Sprintf("(%s, %s, %s mm)", unit.Number(float64(p.X), 0), unit.Number(float64(p.Y), 0), unit.Number(float64(p.Z), 0))
}

func aboutRun(name string) diag.Subject   { return diag.Subject{Kind: "run", Name: name} }
func aboutPanel(name string) diag.Subject { return diag.Subject{Kind: "panel", Name: name} }
