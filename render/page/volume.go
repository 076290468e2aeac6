package page

// Volume is the pages from From up to, and without, To of a book that is too long to be bound.
type Volume struct{ From, To int }

// Volumes parts a book into volumes of at most so many pages. One ends before the page on which a chapter begins, or a part of one, where there is such a
// page in its second half.
func Volumes(marks []Bookmark, pages, most int) []Volume {
	var out []Volume
	for from := 0; from < pages; {
		to := min(from+most, pages)
		if to < pages {
			best := 0
			for _, m := range marks {
				if m.Page > from+most/2 && m.Page <= from+most && m.Level <= 2 && (best == 0 || m.Level <= best) {
					to, best = m.Page, m.Level
				}
			}
		}
		out = append(out, Volume{from, to})
		from = to
	}
	return out
}

// Within is the marks of a volume, their pages counted from its first. Headings that are still open where it begins stand first.
func (v Volume) Within(marks []Bookmark) []Bookmark {
	var open, out []Bookmark
	for _, m := range marks {
		if m.Page >= v.To {
			break
		}
		if m.Page < v.From {
			for len(open) > 0 && open[len(open)-1].Level >= m.Level {
				open = open[:len(open)-1]
			}
			open = append(open, m)
			continue
		}
		if len(out) == 0 {
			for _, o := range open {
				if o.Level < m.Level {
					out = append(out, Bookmark{Title: o.Title, Level: o.Level})
				}
			}
		}
		m.Page -= v.From
		out = append(out, m)
	}
	if len(out) == 0 {
		for _, o := range open {
			out = append(out, Bookmark{Title: o.Title, Level: o.Level})
		}
	}
	return out
}
