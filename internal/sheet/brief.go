package sheet

import "fmt"

// Brief is how much is on a sheet, in words: what tells two states of it apart at a glance.
func Brief(s *Sheet) string {
	bonds := 0
	for _, r := range s.Rows {
		bonds += r.Count()
	}
	text := "no bonds"
	if bonds > 0 {
		text = counted(bonds, "bond") + " in " + counted(len(s.Rows), "row")
	}
	if n := len(s.Visits); n > 0 {
		text += " and " + counted(n, "visit")
	}
	return text
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
