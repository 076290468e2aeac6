package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var postShared = &Rule{
	Key: "post-shared", Title: "a stud post holds two circuits", Severity: diag.Finding,
	Why:     "A stud post through a panel is one conductor: what meets on it is joined on both sides.",
	Formula: "a stud post holds one circuit",
	Source:  "common practice",
	Do:      "Give the second circuit a post of its own.",
	Fires:   with(breakJob, "housing sealed-4 {\n  half body contacts sockets mount fixed\n  half nose contacts pins mount free\n}", "housing stud-post-m8 {\n  half body\n  half nose\n}", "to lamp.1 colour red", "to lamp.1 colour red via P", "to lamp.2 colour black", "to lamp.2 colour black via P"),
	Silent:  breakJob,
	Check:   problems(net.PostShared, func(p *net.Problem) string { return "stud post " + p.Break + " holds " + p.Other + " and " + p.Circuit }),
}
