package lesson

import (
	"maps"
	"math"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// faultsApart is how far apart two faults lie on the scalp, so that nobody who points at one can mean the other. A matter
// of taste: two to three slots.
const faultsApart scalp.MM = 20

// hopeless reports whether a slip is more than one mistake, or worth a note, even if its row were the only one. That is
// quickly told, and so of half of them.
func (w *sowing) hopeless(p slip) bool {
	row, _ := p.make(w.sheet).Row(p.at)
	alone := w.sheet.With(func(c *sheet.Sheet) { c.Rows = []sheet.Row{row} })
	mistakes := 0
	for _, f := range rule.Check(alone, w.table).Findings {
		if _, changed := p.bonds[f.Slot]; !changed || f.On != sheet.OnSlot {
			continue
		}
		if f.Severity == rule.Note {
			return true
		}
		mistakes++
	}
	return mistakes > 1
}

// judge is the faults of a sheet if it will do with one slip more: all that was found on the given sheet is still
// found, and just as grave; what is found besides are one fault more than there were; and each of them has one answer only.
func (w *sowing) judge(made *sheet.Sheet) (faults []rule.Finding, ok bool) {
	rep := rule.Check(made, w.table)
	if len(rep.Findings) != len(w.given)+len(w.faults)+1 {
		return nil, false
	}
	for _, f := range rep.Findings {
		if was, there := w.given[f.Concern]; there {
			if was != f.Severity {
				return nil, false
			}
			continue
		}
		if f.On != sheet.OnSlot || f.Severity < rule.Caution || f.Accepted != nil || !missedPlainly(f) {
			return nil, false
		}
		faults = append(faults, f)
	}
	// As many in all, so if one that was given is gone there are too many new ones.
	if len(faults) != len(w.faults)+1 || !w.apart(faults) {
		return nil, false
	}
	for _, f := range faults {
		if !aloneThere(f, rep) {
			return nil, false
		}
	}
	return faults, !w.arguable(made, faults)
}

// missedPlainly reports whether a finding misses its limit so plainly that nobody can argue about it.
func missedPlainly(f rule.Finding) bool {
	by := f.Limit - f.Value
	if f.AtMost {
		by = -by
	}
	return f.Unit != "" && by >= plainly(f.Unit, f.Limit)-lastDigit
}

// plainly is by how much a limit in some unit has to be missed for that to be plain: by a millimetre, which can be seen on a spacing strip,
// or by a twentieth and at least by one of what is shown (degrees, hairs, %). Common practice, no source.
func plainly(unit string, limit float64) float64 {
	if unit == "mm" {
		return 1
	}
	return math.Max(1, limit/20)
}

// lastDigit is half of the last digit that a finding shows: a bond 5 mm from the next where 6 are asked for is short by 1 mm, whatever
// the last digits of the arithmetic say.
const lastDigit = 0.05

// aloneThere reports whether nothing else is found where a fault is, nor on its row as a whole, and nothing grave at the places
// that it points at. Nothing else may point at it either.
func aloneThere(fault rule.Finding, rep *rule.Report) bool {
	here := spotOf(fault.Concern)
	for _, f := range rep.Findings {
		if f.Concern == fault.Concern {
			continue
		}
		if speaksAt(f.Concern, here) {
			return false
		}
		for _, near := range f.Near {
			if speaksAt(near, here) {
				return false
			}
		}
		for _, near := range fault.Near {
			if f.Severity > rule.Note && speaksAt(f.Concern, spotOf(near)) {
				return false
			}
		}
	}
	return true
}

// speaksAt reports whether a concern speaks of a slot or of its row.
func speaksAt(c sheet.Concern, at sheet.Spot) bool {
	return c.On != sheet.OnSheet && c.Row == at.At && (c.On == sheet.OnRow || c.Slot == at.Slot)
}

// apart reports whether faults are far enough from each other.
func (w *sowing) apart(faults []rule.Finding) bool {
	points := make([]scalp.Vec, len(faults))
	for i, f := range faults {
		line, err := w.table.Line(f.Row)
		if err != nil || line.At(f.Slot) == nil {
			return false // beyond the end of the line there is nothing to point at
		}
		points[i] = line.At(f.Slot).Point
		for _, other := range points[:i] {
			if points[i].Minus(other).Length() < float64(faultsApart) && w.table.Head.Distance(points[i], other) < faultsApart {
				return false // straight through the head it is never farther
			}
		}
	}
	return true
}

// arguable reports whether another rule as good as speaks of a slot with a fault, or newly of its row: whether it would if every limit were
// harsher by what is plain.
func (w *sowing) arguable(made *sheet.Sheet, faults []rule.Finding) bool {
	for _, f := range rule.Check(harsher(made), w.table).Findings {
		for _, fault := range faults {
			if f.Concern != fault.Concern && speaksAt(f.Concern, spotOf(fault.Concern)) && (f.On == sheet.OnSlot || !w.harsh[f.Concern]) {
				return true
			}
		}
	}
	return false
}

// leasts and mosts are the limits that stops and cautions about slots and rows are measured against. The depth of the fringe triangle is
// not among them: another one needs another table.
var (
	leasts = []sheet.LimitName{
		sheet.LimitNape, sheet.LimitNapeUp, sheet.LimitEar, sheet.LimitTemple, sheet.LimitFace, sheet.LimitFringe, sheet.LimitPart,
		sheet.LimitRowGap, sheet.LimitBondGap, sheet.LimitVeil, sheet.LimitVeilUp,
	}
	mosts = []sheet.LimitName{sheet.LimitAside, sheet.LimitLoad}
)

// harsher is a sheet with each limit harder to keep by what is plain. Its table is that of the sheet.
func harsher(s *sheet.Sheet) *sheet.Sheet {
	limits := maps.Clone(s.Limits)
	if limits == nil {
		limits = map[sheet.LimitName]float64{}
	}
	move := func(names []sheet.LimitName, by float64) {
		for _, name := range names {
			v, _ := s.Limit(name)
			info, _ := name.Info()
			limits[name] = v + by*plainly(info.Unit, v)
		}
	}
	move(leasts, 1)
	move(mosts, -1)
	patches := make([]sheet.KeepOff, len(s.KeepOff))
	for i, k := range s.KeepOff {
		k.Radius += scalp.MM(plainly("mm", float64(k.Radius)))
		patches[i] = k
	}
	return s.With(func(c *sheet.Sheet) { c.Limits, c.KeepOff = limits, patches })
}
