package rule

import (
	"strings"
)

// A small whole job from which the examples of the rules are made by exchanging pieces of its text.
const smallJob = `harness "Example" revision B
section body
zone cabin air 40 C
point hub at (500, 0, 0 mm)
run main from battery to hub to lamp section body zone cabin
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  inner cell
  fuse blade-10 from cell to pos
  supply 12.6 V inside 10 mohm most 200 A from cell to neg
}
device lamp at (1000, 0, 0 mm) housing sealed-2 {
  draw 2 A at 12 V as resistance from 1 to 2
}
circuit feed from battery.pos to lamp.1 colour red
circuit back from battery.neg to lamp.2 colour black
case on { supply battery }
`

// A job of two batteries in series.
const stringJob = `harness "Example" revision B
section body
zone cabin air 40 C
run main from low to high to key to lamp section body zone cabin
device low at (0, 0, 0 mm) {
  pin pos, neg stud M8
  inner cell
  fuse blade-10 from cell to pos
  supply 24 V inside 10 mohm from cell to neg
}
device high at (300, 0, 0 mm) like low
device key at (600, 0, 0 mm) housing sealed-2 { state on joins 1, 2 }
device lamp at (1000, 0, 0 mm) housing sealed-2 { draw 1 A at 48 V as resistance from 1 to 2 }
circuit middle from low.pos to high.neg colour brown
circuit switched from high.pos to key.1 colour red
circuit feed from key.2 to lamp.1 colour red
circuit back from low.neg to lamp.2 colour black
case on {
  supply low, high
  set key to on
}
`

// A job of two sections with a break between them.
const breakJob = `harness "Example" revision B
section body, nose
zone cabin air 40 C
panel wall thickness 1.5 mm zone cabin, cabin {
  corners (400, -300, -300 mm), (400, 300, -300 mm), (400, 300, 300 mm), (400, -300, 300 mm)
}
break P at (400, 0, 0 mm) panel wall housing sealed-4 {
  half body contacts sockets mount fixed
  half nose contacts pins mount free
}
run rear from battery to P section body zone cabin
run front from P to lamp, horn section nose zone cabin
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  inner cell
  fuse blade-10 from cell to pos
  supply 12.6 V inside 10 mohm most 200 A from cell to neg
}
device lamp at (900, 100, 0 mm) housing sealed-2 { draw 2 A at 12 V as resistance from 1 to 2 }
device horn at (900, -100, 0 mm) housing sealed-2 { draw 4 A at 12 V from 1 to 2 }
circuit feed from battery.pos to lamp.1 colour red
circuit back from battery.neg to lamp.2 colour black
circuit horn-feed from battery.pos to horn.1 colour brown
circuit horn-back from battery.neg to horn.2 colour black
case on { supply battery }
`

// with exchanges pieces of a job's text, old and new in turn. It panics when a piece is not there, so that an example cannot go stale in silence.
func with(job string, pairs ...string) string {
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(job, pairs[i]) {
			panic("example does not contain " + pairs[i])
		}
		job = strings.Replace(job, pairs[i], pairs[i+1], 1)
	}
	return job
}

// floorJob is the small job with its run clipped to a floor of which more is stated.
func floorJob(more string) string {
	return with(smallJob, "point hub", "zone below air 30 C\npanel floor thickness 1.5 mm zone cabin, below {\n  corners (-100, -200, 0 mm), (1100, -200, 0 mm), (1100, 500, 0 mm), (-100, 500, 0 mm)\n  "+more+"\n}\npoint hub",
		"section body zone cabin\n", "section body zone cabin panel floor\n")
}

// twoPlugs is the job with the break in which the horn has a plug of its own, at a place.
func twoPlugs(at string) string {
	return with(breakJob, "break P at (400, 0, 0 mm) panel wall housing sealed-4 {", "housing own-4 keys A, B cut-out 20 mm flange 30 mm {\n  cavity [1..4] takes size-16\n}\nbreak P at (400, 0, 0 mm) panel wall housing own-4 key A {",
		"run rear from battery to P section", "break Q at "+at+" panel wall housing own-4 key B class horns {\n  half body contacts sockets mount fixed\n  half nose contacts pins mount free\n}\nrun rear from battery to P, Q section",
		"run front from P to lamp, horn section", "run front from P to lamp section", "device battery", "run side from Q to horn section nose zone cabin\ndevice battery",
		"horn.1 colour brown", "horn.1 colour brown class horns", "horn.2 colour black", "horn.2 colour black class horns")
}
