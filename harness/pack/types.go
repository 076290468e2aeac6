// Package pack lays circles of given sizes in the smallest circle: the cross-section of a bundle.
package pack

import "loomsheet/harness/unit"

// Circle is one wire in a cross-section; coordinates from the middle of the bundle.
type Circle struct {
	X, Y     unit.Length
	Diameter unit.Length
}

// Circles packs circles of the given diameters. The result is in the order given; no two overlap. outside is the diameter of the
// smallest circle found that holds them all.
func Circles(diameters []unit.Length) (at []Circle, outside unit.Length) { return nil, 0 }
