package cli

import (
	"io"

	"example.org/underveil/internal/unit"
)

// lengths is standard output for sentences of the program's own, with their lengths in the unit of the settings; keep are texts
// that stay in them as somebody typed them. Commands use it where they write for people, before lines are broken and columns laid
// out. JSON, CSV and files have mm whatever the settings say, and so have errors about what stands in a file.
func (p *program) lengths(keep ...string) io.Writer {
	u := p.settings().Units
	if u == unit.MM {
		return p.stdout
	}
	return inUnit{p.stdout, u, keep}
}

// inUnit writes text with its lengths in a unit. A length is written in one piece.
type inUnit struct {
	to   io.Writer
	unit unit.Unit
	keep []string
}

func (w inUnit) Write(p []byte) (int, error) {
	_, err := io.WriteString(w.to, unit.In(string(p), w.unit, w.keep...))
	return len(p), err
}

// inUnit is a sentence with its lengths in the unit of the settings.
func (p *program) inUnit(text string, keep ...string) string {
	return unit.In(text, p.settings().Units, keep...)
}
