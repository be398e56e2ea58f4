package cli

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"example.org/underveil/internal/card"
	"example.org/underveil/internal/card/page"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/slots"
	"example.org/underveil/internal/studio"
	"example.org/underveil/internal/tally"
	"example.org/underveil/internal/unit"
)

func (p *program) cardCommand() *cobra.Command {
	var to, paper string
	c := &cobra.Command{
		Use: "card SHEET", Short: "Write the card of a sheet: a page to work from, and one for the client to take home", Args: sheetsNamed(1, 1),
		Long: "Card writes what is hung up at the station, the map, the rows in the order of fitting, what to lay out and the steps with\n" +
			"their cautions, and a page for the client to take home. SVG has no pages: FILE.svg is the first, FILE-2.svg the next.\n" +
			"A card that is there already is replaced; a sheet never is.",
		RunE: func(_ *cobra.Command, args []string) error { return p.card(args[0], to, paper) },
	}
	c.Flags().StringVar(&to, "to", "", "the file to write, FILE.pdf, FILE.svg or FILE.txt; without it the text is shown")
	c.Flags().StringVar(&paper, "paper", "", "a4 or letter (by the settings otherwise; a4 without one)")
	return c
}

func (p *program) card(path, to, paper string) error {
	size, ok := paperSizes[strings.ToLower(cmp.Or(paper, p.settings().Paper))]
	if !ok {
		return fmt.Errorf("--paper is a4 or letter, not %s", printable.Quote(paper))
	}
	kind := ""
	if to != "" {
		var err error
		if kind, err = cardKind(to); err != nil {
			return fmt.Errorf("--to: %w", err)
		}
	}
	s, t, _, err := p.checked(path)
	if err != nil {
		return err
	}
	st, _, err := p.studio()
	if err != nil {
		return err
	}
	c := cardOf(s, t, st, size, p.settings().Units)
	if to == "" {
		fmt.Fprint(p.stdout, c.Text(p.glyphs() == figure.ASCII))
		return nil
	}
	told, err := p.writeCard(c, path, to, kind)
	for _, line := range told {
		fmt.Fprintln(p.stdout, printable.Line(line))
	}
	return err
}

// cardOf is the card of a sheet, its lengths in a unit, with the spare strands, the chair time and the contact of a studio; without one, with none of them.
func cardOf(s *sheet.Sheet, t *slots.Table, st *studio.Studio, size page.Size, u unit.Unit) *card.Card {
	o := card.Options{Paper: size, Units: u}
	if st != nil {
		order := tally.OrderOf(s, tally.Count(s, t), st)
		o.Studio, o.Contact, o.Order = st.Name, st.Contact, &order
	}
	return card.Of(s, t, o)
}

// paperSizes are what a card can be printed on, by name.
var paperSizes = map[string]page.Size{"a4": page.A4, "letter": page.Letter}

// cardFor writes a card for the editor; of is where its sheet is from, or empty.
func (p *program) cardFor(s *sheet.Sheet, of, to, paper string) ([]string, error) {
	kind, err := cardKind(to)
	if err != nil {
		return nil, err
	}
	t, err := slots.For(s, nil)
	if err != nil {
		return nil, err
	}
	return p.writeCard(cardOf(s, t, p.has, paperSizes[paper], p.settings().Units), of, to, kind)
}

// cardKind is the kind of card that a file is, by its ending.
func cardKind(to string) (string, error) {
	switch kind := strings.ToLower(filepath.Ext(to)); kind {
	case ".pdf", ".svg", ".txt":
		return kind, nil
	}
	return "", fmt.Errorf("a card is a file that ends in .pdf, .svg or .txt, not %s", printable.Quote(to))
}

// writeCard writes a card and tells what was written, and what whoever prints it should know.
func (p *program) writeCard(c *card.Card, of, to, kind string) (told []string, err error) {
	files, err := cardFiles(c, to, kind, c.Text(p.glyphs() == figure.ASCII))
	if err != nil {
		return nil, err
	}
	for _, f := range files {
		if err := p.spares(f.path, of); err != nil {
			return nil, err
		}
	}
	for _, f := range files {
		if err := sheetfile.WriteAtomic(f.path, f.data); err != nil {
			return told, err
		}
		told = append(told, f.path)
	}
	return append(told, aboutCard(c, files, kind)...), nil
}

// cardFile is one file of a card.
type cardFile struct {
	path string
	data []byte
}

// cardFiles are the files of a card of a kind.
func cardFiles(c *card.Card, to, kind, text string) ([]cardFile, error) {
	switch kind {
	case ".txt":
		return []cardFile{{to, []byte(text)}}, nil
	case ".pdf":
		data, err := c.PDF()
		return []cardFile{{to, data}}, err
	}
	var files []cardFile
	for i, data := range c.SVG() {
		files = append(files, cardFile{svgPage(to, i+1), data})
	}
	return files, nil
}

// svgPage is the name of the n-th page of an SVG.
func svgPage(to string, n int) string {
	if n == 1 {
		return to
	}
	ext := filepath.Ext(to)
	return fmt.Sprintf("%s-%d%s", strings.TrimSuffix(to, ext), n, ext)
}

// spares makes sure that a card is not written over what is no card: the sheet that it is of, the studio file, or any other TOML
// file that a link leads to.
func (p *program) spares(to, of string) error {
	there, err := os.Stat(to)
	if err != nil {
		if errors.Is(err, os.ErrNotExist) && !tomlBehind(to) {
			return nil
		}
		there = nil
	}
	if tomlBehind(to) {
		return fmt.Errorf("%s leads to a TOML file, and a card is never written over one; name another file", to)
	}
	for _, other := range []string{of, p.from} {
		if info, err := os.Stat(other); err == nil && there != nil && os.SameFile(there, info) {
			return fmt.Errorf("%s is no card but the same file as %s; name another file", to, other)
		}
	}
	return nil
}

// tomlBehind reports whether a path, or where its links lead to, is a TOML file.
func tomlBehind(path string) bool {
	for range 40 { // links in a circle end somewhere
		if strings.EqualFold(filepath.Ext(path), ".toml") {
			return true
		}
		next, err := os.Readlink(path)
		if err != nil {
			return false
		}
		if !filepath.IsAbs(next) {
			next = filepath.Join(filepath.Dir(path), next)
		}
		path = next
	}
	return false
}

// aboutCard is what whoever prints the card should know.
func aboutCard(c *card.Card, files []cardFile, kind string) (told []string) {
	if kind != ".txt" {
		told = append(told, c.Notices...)
	}
	if next := svgPage(files[0].path, len(files)+1); kind == ".svg" {
		if _, err := os.Lstat(next); err == nil {
			told = append(told, next+" is of an earlier card and no part of this one")
		}
	}
	if open := c.NotAccepted(); open != "" {
		told = append(told, "the card says: "+open)
	}
	return told
}
