package drawing

import "loomsheet/render/page"

// sheetFor lays a drawing out at full size on a piece just large enough for it, its labels, its key and its bar.
func (d *Drawing) sheetFor() *Layout {
	low, high, _ := d.Bounds()
	px := edge
	for _, l := range d.Labels {
		if l.Free && l.Text != "" {
			px = fileX
		} else if w := voice(l.Small).Width(l.Text); l.Text != "" && l.At.finite() {
			// A fixed label must not be pushed from its place for want of paper.
			px = max(px, edge+min(w, 60))
		}
	}
	return d.lay(max(high.X-low.X+2*px, fileLeast), 0, 1, true, Bounded{})
}

// fileLeast is the least width of a file's sheet: room for the bar of 100 mm.
const fileLeast page.MM = 112
