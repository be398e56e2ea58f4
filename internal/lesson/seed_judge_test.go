package lesson

import (
	"testing"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/slots"
)

// sown is a sheet ready for faults.
func sown(t *testing.T, s *sheet.Sheet) *sowing {
	t.Helper()
	table, err := slots.For(s, nil)
	if err != nil {
		t.Fatal(err)
	}
	return newSowing(s, table, rule.Check(s, table))
}

// oneOf is a finding of a rule about a slot of the row at height 60.
func oneOf(id string, severity rule.Severity, slot int, near ...int) rule.Finding {
	at := sheet.Concern{Rule: id, Row: sheet.Place{At: 60}, On: sheet.OnSlot, Slot: slot}
	f := rule.Finding{Concern: at, Severity: severity}
	for _, n := range near {
		at.Slot = n
		f.Near = append(f.Near, at)
	}
	return f
}

// A fault is alone where nothing else is found in its slot, nothing points there, and nothing grave is where it points.
func TestAloneThere(t *testing.T) {
	fault := oneOf("bond-gap", rule.Stop, 3, 4)
	onRow := oneOf("wish", rule.Note, 3)
	onRow.On, onRow.Slot = sheet.OnRow, 0
	otherRow, onSheet := onRow, onRow
	otherRow.Row.At = 80
	onSheet.On, onSheet.Row = sheet.OnSheet, sheet.Place{}
	for _, c := range []struct {
		name  string
		other rule.Finding
		alone bool
	}{
		{"elsewhere", oneOf("ear", rule.Stop, 12), true},
		{"in its slot", oneOf("ear", rule.Stop, 3), false},
		{"a note in its slot", oneOf("trim", rule.Note, 3), false},
		{"grave where it points", oneOf("ear", rule.Caution, 4), false},
		{"a note where it points", oneOf("trim", rule.Note, 4), true},
		{"pointing at it", oneOf("stacked", rule.Note, 9, 3), false},
		{"pointing elsewhere", oneOf("stacked", rule.Note, 9, 8), true},
		{"on its row", onRow, false},
		{"on another row", otherRow, true},
		{"on the sheet", onSheet, true},
	} {
		rep := &rule.Report{Findings: []rule.Finding{c.other, fault}}
		if alone := aloneThere(fault, rep); alone != c.alone {
			t.Errorf("%s: %v", c.name, alone)
		}
	}
}

// A slip does not do where an acceptance waits for what it brings, nor where it makes something graver that was there.
func TestJudge(t *testing.T) {
	row := sheet.Place{At: 60}
	bonds := map[int]sheet.Bond{}
	for slot := -3; slot <= 3; slot++ { // closer than volume needs, which is a note
		bonds[slot] = sheet.Bond{Shade: 'a'}
	}
	s := sheet.New(scalp.Sizes[1].Measures).WithBonds(row, bonds)
	w := sown(t, s)
	wish := sheet.Concern{Rule: "wish", Row: row, On: sheet.OnRow}
	if severity, there := w.given[wish]; !there || severity != rule.Note {
		t.Fatal("no note about the wish")
	}
	line, err := w.table.Line(sheet.Place{At: 90})
	if err != nil {
		t.Fatal(err)
	}
	_, last := line.HairEnds()
	off := sheet.Concern{Rule: "off-scalp", Row: line.Place(), On: sheet.OnSlot, Slot: last + 2}
	made := s.WithBond(off.Row, off.Slot, sheet.Bond{Shade: 'a'})
	if faults, ok := w.judge(made); !ok || len(faults) != 1 || faults[0].Concern != off {
		t.Errorf("off the scalp: %v, %v", faults, ok)
	}
	waits := s.WithAccepted(sheet.Accepted{Concern: off, Reason: "asked for"})
	if faults, ok := sown(t, waits).judge(waits.WithBond(off.Row, off.Slot, sheet.Bond{Shade: 'a'})); ok {
		t.Errorf("accepted: %v", faults)
	}
	wider := made.WithBonds(row, map[int]sheet.Bond{-2: {}, -1: {}, 1: {}, 2: {}, 6: {Shade: 'a'}})
	if graver := rule.Check(wider, w.table); findingOf(graver, wish) == nil || findingOf(graver, wish).Severity != rule.Caution {
		t.Fatal("no caution about the wish")
	}
	if faults, ok := w.judge(wider); ok {
		t.Errorf("graver: %v", faults)
	}
}
