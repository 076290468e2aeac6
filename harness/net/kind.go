package net

import (
	"math"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// SpareFrom is the number of cavities above which a housing is asked to keep some spare: of eight and fewer a tenth would be none.
const SpareFrom = 8

// Kind is the cavities of a break that take the same contacts.
type Kind struct {
	Takes    string // contact parts, as listed: "size-16", "tab-6-3, tab-6-3-large"
	Cavities int
	takes    string
}

// Owes is how many of a kind are to be spare for a share of all, to the nearest whole.
func (k Kind) Owes(share unit.Ratio) int {
	return int(math.Floor(float64(share)*float64(k.Cavities) + 0.5))
}

// owes is how many of all are the least that keep a share.
func owes(share unit.Ratio, all int) int {
	return min(all, int(math.Ceil(float64(share)*float64(all)-1e-9)))
}

// Kinds lists the kinds of cavity of a break, in the order of its housing, and of each cavity by name the place of its kind in that list.
func Kinds(job *design.Job, of *design.Break) ([]Kind, map[string]int) {
	b := &builder{job: job, housings: map[string]*design.Housing{}}
	for _, x := range job.Parts.Housings {
		first(b.housings, x.Name, x)
	}
	face := faceOf(b.cavities(of))
	kinds := kindsOf(face)
	at := map[string]int{}
	for i := range face {
		at[face[i].Name] = slices.IndexFunc(kinds, func(k Kind) bool { return k.takes == takesKey(&face[i]) })
	}
	return kinds, at
}

func kindsOf(face []design.HousingCavity) []Kind {
	var out []Kind
	for i := range face {
		key := takesKey(&face[i])
		k := slices.IndexFunc(out, func(k Kind) bool { return k.takes == key })
		if k < 0 {
			k = len(out)
			out = append(out, Kind{Takes: strings.Join(face[i].Takes, ", "), takes: key})
		}
		out[k].Cavities++
	}
	return out
}

func takesKey(c *design.HousingCavity) string { return c.Stud + "\x00" + strings.Join(c.Takes, "\x00") }
