package page

import (
	"fmt"
)

// Frame is what stands on every page around its body: job, book, section and revision, the digest of the source, page
// n of m, and while the job is not fit to build a band that says so. The left margin of 20 mm is for punching (the
// filing margin of ISO 5457).
type Frame struct {
	Size        Size // the zero size is A4
	Job         string
	Book        string // name of the book
	Section     string // or chapter; may be empty
	Revision    string
	Digest      string // of the source, short, hexadecimal
	NotForBuild string // the reason; empty when the sheet may be built from
}

const (
	marginPunch MM = 20
	marginRight MM = 12
	marginTop   MM = 9
	marginFoot  MM = 8
	numberW     MM = 48 // room for "page 9999 of 9999"
	noteW       MM = 50 // room for what is said of a page besides
	headLines      = 4  // a longer name is shortened in the running head; the cover has it whole
)

var (
	headType  = Type{Heading3.Face, 10, Black}
	sideType  = Type{Body.Face, 9, Black}
	bandType  = Type{Heading1.Face, 15, Black}
	pageType  = Type{Heading3.Face, 10, Black}
	bandTitle = "NOT FOR BUILD"
)

// framing is a frame with its texts wrapped and its heights known.
type framing struct {
	frame                   Frame
	left, width             MM
	jobW, sideW             MM
	job, side, reason, foot []string
	ruleY, bandY, bandH     MM
	footY                   MM
	body                    Box
}

func (f Frame) size() Size {
	if f.Size == (Size{}) {
		return A4
	}
	return f.Size
}

// Body is the part of the sheet that blocks may fill.
func (f Frame) Body() Box { return f.measure().body }

func (f Frame) measure() framing {
	s := f.size()
	m := framing{frame: f, left: marginPunch, width: s.W - marginPunch - marginRight}
	side := f.Book
	if f.Section != "" {
		side += " – " + f.Section
	}
	m.side = capped(sideType, side, m.width*0.42)
	for _, l := range m.side {
		m.sideW = max(m.sideW, sideType.Width(l)+0.1)
	}
	m.jobW = m.width - m.sideW - 6
	m.job = capped(headType, f.Job, m.jobW)
	m.ruleY = marginTop + max(headType.Height(len(m.job)), sideType.Height(len(m.side))) + 1
	top := m.ruleY
	if f.NotForBuild != "" {
		m.bandY = m.ruleY + 2.5
		m.reason = capped(Body, f.NotForBuild, m.width-m.bandIndent()-4)
		m.bandH = max(bandType.Leading(), Body.Height(len(m.reason))) + 4
		top = m.bandY + m.bandH
	}
	m.foot = capped(sideType, f.footText(), m.width-numberW)
	m.footY = s.H - marginFoot - max(sideType.Height(len(m.foot)), pageType.Leading()) - Small.Leading() - 1
	m.body = Box{m.left, top + 4, m.width, m.footY - 3 - (top + 4)}
	return m
}

func (m framing) bandIndent() MM { return 4 + bandType.Width(bandTitle) + 5 }

func (f Frame) footText() string {
	s := "Revision " + orDash(f.Revision)
	return s + "   Source " + orDash(f.Digest)
}

func orDash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

// capped wraps s to at most headLines lines.
func capped(t Type, s string, w MM) []string {
	lines := t.Wrap(s, w)
	if len(lines) > headLines {
		last := lines[headLines-1] + "…"
		lines = append(lines[:headLines-1:headLines-1], t.Fit(last, w))
	}
	return lines
}

const destroyLine = "Destroy this sheet if its revision or source differs from those on the board."

// draw puts the frame of page n of m onto the canvas of the whole sheet, with a note at its foot.
func (m framing) draw(c *Canvas, n, of int, note string) {
	jobH, sideH := headType.Height(len(m.job)), sideType.Height(len(m.side))
	base := m.ruleY - 1
	c.Lines(Box{m.left, base - jobH, m.jobW, jobH}, headType, Left, m.job)
	c.Lines(Box{m.left + m.width - m.sideW, base - sideH, m.sideW, sideH}, sideType, Right, m.side)
	c.Line(m.left, m.ruleY, m.left+m.width, m.ruleY, Firm)
	if m.bandH > 0 {
		b := Box{m.left + 0.6, m.bandY + 0.6, m.width - 1.2, m.bandH - 1.2} // the thick line stays in the margins
		c.Rect(b, Thick)
		c.Lines(Box{m.left + 4, m.bandY + (m.bandH-bandType.Leading())/2, m.bandIndent(), bandType.Leading()}, bandType, Left, []string{bandTitle})
		h := Body.Height(len(m.reason))
		c.Lines(Box{m.left + m.bandIndent(), m.bandY + (m.bandH-h)/2, m.width - m.bandIndent() - 4, h}, Body, Left, m.reason)
	}
	c.Line(m.left, m.footY, m.left+m.width, m.footY, Thin)
	y := m.footY + 1
	c.Lines(Box{m.left, y, m.width - numberW, sideType.Height(len(m.foot))}, sideType, Left, m.foot)
	number := fmt.Sprintf("page %d of %d", n, of)
	c.Lines(Box{m.left + m.width - numberW, y, numberW, pageType.Leading()}, pageType, Right, []string{number})
	y += max(sideType.Height(len(m.foot)), pageType.Leading())
	c.Lines(Box{m.left, y, m.width, Small.Leading()}, Small, Left, []string{destroyLine})
	if note != "" {
		c.Lines(Box{m.left + m.width - noteW, y, noteW, Small.Leading()}, Small, Right, []string{Small.Fit(note, noteW)})
	}
	mid := m.frame.size().H / 2
	c.Line(6, mid, 11, mid, Hair) // where the punch is centred
}
