package resolve

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
)

// sort puts every list of the job in natural order, so that the order of statements never shows.
func (b *builder) sort() {
	j := b.job
	byName(j.Devices, func(x *design.Device) string { return x.Name })
	byName(j.Breaks, func(x *design.Break) string { return x.Name })
	ps := &j.Parts
	byName(ps.Housings, func(x *design.Housing) string { return x.Name })
	byName(ps.Contacts, func(x *design.Contact) string { return x.Name })
	byName(ps.Seals, func(x *design.Seal) string { return x.Name })
	byName(ps.Wires, func(x *design.Wire) string { return x.Name })
	byName(ps.Fuses, func(x *design.Fuse) string { return x.Name })
	byName(ps.Sleeves, func(x *design.Sleeve) string { return x.Name })
	byName(ps.Barrels, func(x *design.Barrel) string { return x.Name })
	byName(ps.Clips, func(x *design.Clip) string { return x.Name })
	byName(ps.Fasteners, func(x *design.Fastener) string { return x.Name })
	slices.SortStableFunc(j.Stocks, func(x, y *design.Stock) int {
		return cmp.Or(design.Natural(x.Wire, y.Wire), cmp.Compare(x.Size.Area(), y.Size.Area()), design.Natural(x.Size.String(), y.Size.String()), design.Natural(x.Colour, y.Colour), slices.Compare(x.Lengths, y.Lengths))
	})
	slices.SortStableFunc(j.Accepts, func(x, y *design.Accept) int {
		return cmp.Or(cmp.Compare(x.Key, y.Key), cmp.Compare(x.Subject.Kind, y.Subject.Kind), design.Natural(x.Subject.Name, y.Subject.Name),
			design.Natural(x.Subject.From, y.Subject.From), design.Natural(x.Subject.To, y.Subject.To), cmp.Compare(x.Value.Value, y.Value.Value), cmp.Compare(x.By, y.By), cmp.Compare(x.Until, y.Until))
	})
	slices.SortStableFunc(j.Cavities, func(x, y *design.CavityDecision) int {
		return cmp.Or(design.Natural(x.Break, y.Break), design.Natural(x.Device, y.Device), design.Natural(x.Cavity, y.Cavity), design.Natural(x.Circuit, y.Circuit),
			design.Natural(x.From, y.From), design.Natural(x.To, y.To), cmp.Compare(x.Order, y.Order), cmp.Compare(x.Spare, y.Spare), cmp.Compare(x.Frozen, y.Frozen))
	})
	slices.SortStableFunc(j.Seats, func(x, y *design.SeatDecision) int {
		return cmp.Or(design.Natural(x.Splice, y.Splice), design.Natural(x.Along, y.Along), design.Natural(x.To, y.To), cmp.Compare(x.After, y.After), cmp.Compare(x.Frozen, y.Frozen))
	})
	slices.SortStableFunc(j.Labels, func(x, y *design.LabelDecision) int {
		return cmp.Or(design.Natural(x.Circuit, y.Circuit), design.Natural(x.From, y.From), design.Natural(x.To, y.To), design.Natural(x.Text, y.Text), cmp.Compare(x.Frozen, y.Frozen))
	})
}

func byName[T any](list []T, name func(T) string) {
	slices.SortStableFunc(list, func(x, y T) int { return design.Natural(name(x), name(y)) })
}
