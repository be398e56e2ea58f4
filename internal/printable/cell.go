package printable

import "strings"

// Cell is a text as a cell of a spreadsheet: it puts a ' before whatever a spreadsheet would take for the beginning of a formula: one of = + - @, their wide
// forms, a tab or a line break, where it begins the cell. Where a semicolon or a tab parts cells, as in much of
// Europe, a text can begin a cell after one of those, or a line break, too. Quotation marks there do not count: the
// reader may take them away.
func Cell(cell string) string {
	var safe strings.Builder
	begins := true
	for _, r := range cell {
		if begins && strings.ContainsRune("=+-@＝＋－＠\t\r\n", r) {
			safe.WriteByte('\'')
		}
		safe.WriteRune(r)
		begins = strings.ContainsRune(";\t\r\n", r) || begins && r == '"'
	}
	return safe.String()
}
