package sheet

import "example.org/underveil/internal/printable"

// Brief is how much is on a sheet, in words: what tells two states of it apart at a glance.
func Brief(s *Sheet) string {
	bonds := 0
	for _, r := range s.Rows {
		bonds += r.Count()
	}
	text := "no bonds"
	if bonds > 0 {
		text = printable.Count(bonds, "bond") + " in " + printable.Count(len(s.Rows), "row")
	}
	if n := len(s.Visits); n > 0 {
		text += " and " + printable.Count(n, "visit")
	}
	return text
}
