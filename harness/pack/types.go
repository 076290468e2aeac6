// Package pack lays circles of given sizes in the smallest circle: the cross-section of a bundle.
//
// Best packing is the smallest a bundle can be: what has to fit over it must suit the band from here up to the trade figure
// 1.2 sqrt(sum d2).
package pack

import "loomsheet/harness/unit"

// Circle is one wire in a cross-section; coordinates from the middle of the bundle.
type Circle struct {
	X, Y     unit.Length
	Diameter unit.Length
}
