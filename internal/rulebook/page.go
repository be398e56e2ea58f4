// Package rulebook is a page for each rule: what it reports and why, by which limits, and a picture of wrong and right.
package rulebook

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/cells"
	"example.org/underveil/internal/figure"
	"example.org/underveil/internal/printable"
	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
	"example.org/underveil/internal/unit"
)

// Width is how wide a page is meant to be, in columns: two pictures have room beside each other.
const Width = 76

// Find is the rule with an id. The error names the one that was probably meant.
func Find(id string) (*rule.Rule, error) {
	if r, ok := rule.ByID(id); ok {
		return r, nil
	}
	ids := make([]string, len(rule.All))
	for i, r := range rule.All {
		ids[i] = r.ID
	}
	ask := "underveil rules lists them"
	if meant := sheetfile.Meant(strings.NewReplacer(" ", "-", "_", "-").Replace(id), ids); meant != "" {
		ask = "did you mean " + meant + "?"
	}
	return nil, fmt.Errorf("there is no rule %s; %s", printable.Quote(id), ask)
}

// Page is the page of a rule.
type Page struct {
	Rule    *rule.Rule
	Example *Example
	Units   unit.Unit // that Screen shows lengths in
	limits  []limit
}

// limit is a limit or figure of a rule, as it usually is and as it is for somebody.
type limit struct {
	sheet.LimitInfo
	here   float64
	source string
}

// Of is the page of a rule, with the limits in force on a sheet; nil is a sheet by the usual limits. The error says what is
// wrong with the rule's example.
func Of(r *rule.Rule, s *sheet.Sheet) (*Page, error) {
	x, err := ExampleOf(r)
	if err != nil {
		return nil, err
	}
	if s == nil {
		s = &sheet.Sheet{}
	}
	p := &Page{Rule: r, Example: x}
	for _, name := range r.Limits {
		l := limit{}
		l.LimitInfo, _ = name.Info()
		l.here, l.source = s.Limit(name)
		p.limits = append(p.limits, l)
	}
	return p, nil
}

// Screen is the page drawn, so wide and as high as it comes to. The marks of glyphs are those of its pictures; with figure.ASCII
// there is nothing else on it either.
func (p *Page) Screen(width int, glyphs figure.Glyphs) *cells.Screen {
	l := &leaf{width: width, glyphs: glyphs, units: p.Units}
	l.pair(figure.Title, p.Rule.ID, "at most a "+p.Rule.Severity.String()+glyphs.Dash+"since "+p.Rule.Since)
	l.paragraph(figure.Strong, p.Rule.Title)
	l.gap()
	l.paragraph(figure.Label, p.Rule.Doc)
	l.gap()
	l.example(p.Example, p.Rule)
	l.gap()
	l.measured(p)
	return l.screen()
}

// measured is what the rule measures against.
func (l *leaf) measured(p *Page) {
	l.paragraph(figure.Title, "measured against")
	if len(p.limits) == 0 {
		source := ""
		for _, f := range p.Example.Wrong.of(p.Rule) {
			source = f.Source
		}
		l.indented(figure.Plain, 2, "no limit of its own")
		l.indented(figure.Dim, 2, source)
		return
	}
	label := 0
	for _, m := range p.limits {
		label = max(label, printable.Width(m.Short))
	}
	another := false
	for _, m := range p.limits {
		l.labelled(label, m.Short, fmt.Sprintf("%g %s %s", m.Default, m.Unit, m.Title))
		l.indented(figure.Dim, 2+label+2, m.Source)
		if m.here != m.Default {
			l.indented(figure.Strong, 2+label+2, fmt.Sprintf("here %g %s: %s", m.here, m.Unit, m.source))
			another = true
		}
	}
	if another {
		l.gap()
		l.paragraph(figure.Dim, "The pictures are drawn by the usual limits.")
	}
}
