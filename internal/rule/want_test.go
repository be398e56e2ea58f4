package rule_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/sheet"
)

// A sheet states in comments what the rules find on it:
//
//	bonds = "a..(a)..a"  # want: nape stop @-3 @3 "7.5 mm from the nape hairline, at least 20.0 mm"; stacked note @0
//
// that is a rule, its severity, "accepted" where somebody accepted it, the slots, and part of the message with the
// source of the limit behind it. Slots and message may be left out: without a slot, the want is about the whole row that
// it stands in, or about the whole sheet where it stands outside of rows; there @patch_test says what on the sheet it is about. "want: stale" in an [[accept]] says that the
// acceptance has no finding. All that is not wanted must not be found.

// want is one finding, or stale acceptance, that a sheet states.
type want struct {
	line     int
	concern  sheet.Concern
	stale    bool
	severity rule.Severity
	accepted bool
	text     string
}

func (w want) String() string {
	if w.stale {
		return fmt.Sprintf("line %d: a stale acceptance of %s, %s", w.line, w.concern.Rule, rule.Where(w.concern))
	}
	severity := w.severity.String()
	if w.accepted {
		severity += " accepted"
	}
	return fmt.Sprintf("line %d: %s %s, %s %q", w.line, w.concern.Rule, severity, rule.Where(w.concern), w.text)
}

// met reports whether a finding is what was wanted.
func (w want) met(f rule.Finding) bool {
	return !w.stale && w.concern == f.Concern && w.severity == f.Severity && w.accepted == (f.Accepted != nil) &&
		strings.Contains(fmt.Sprintf("%s (%s)", f.Message(), f.Source), w.text)
}

// table is a table of a sheet's file, as far as wants have to know it.
type table struct {
	name  string // "row", "accept" or another; empty at the top
	place sheet.Place
	rule  string
	slot  *int
}

// read takes in a line of the table.
func (t *table) read(line string) error {
	key, value, ok := strings.Cut(line, "=")
	key, value = strings.TrimSpace(key), strings.TrimSpace(value)
	if !ok {
		return nil
	}
	switch key {
	case "height", "along":
		at, err := strconv.ParseFloat(value, 64)
		t.place = sheet.Place{Along: key == "along", At: scalp.MM(at)}
		return err
	case "rule":
		t.rule = strings.Trim(value, `"`)
	case "slot":
		slot, err := strconv.Atoi(value)
		t.slot = &slot
		return err
	}
	return nil
}

// concern is the place of an acceptance.
func (t *table) concern() sheet.Concern {
	c := sheet.Concern{Rule: t.rule, Row: t.place}
	switch {
	case t.slot != nil:
		c.On, c.Slot = sheet.OnSlot, *t.slot
	case t.place != sheet.Place{}:
		c.On = sheet.OnRow
	}
	return c
}

// wants reads what the text of a sheet states. A want stands below the place of its row.
func wants(text string) ([]want, error) {
	var found []want
	at := &table{}
	for i, line := range strings.Split(text, "\n") {
		line, comment := cutComment(line)
		if header, ok := strings.CutPrefix(line, "["); ok {
			at = &table{name: strings.Trim(header, "[]")}
		} else if err := at.read(line); err != nil {
			return nil, fmt.Errorf("line %d: %w", i+1, err)
		}
		stated, ok := strings.CutPrefix(comment, "want:")
		if !ok {
			if strings.HasPrefix(comment, "want") {
				return nil, fmt.Errorf("line %d: a want begins with want:", i+1)
			}
			continue
		}
		for part := range strings.SplitSeq(stated, ";") {
			some, err := at.wants(strings.TrimSpace(part))
			if err != nil {
				return nil, fmt.Errorf("line %d: %w", i+1, err)
			}
			for _, w := range some {
				w.line = i + 1
				found = append(found, w)
			}
		}
	}
	return found, nil
}

// cutComment parts a line into what TOML reads and what it does not.
func cutComment(line string) (code, comment string) {
	quoted := false
	for i, r := range line {
		switch {
		case r == '"':
			quoted = !quoted
		case r == '#' && !quoted:
			return strings.TrimSpace(line[:i]), strings.TrimSpace(line[i+1:])
		}
	}
	return strings.TrimSpace(line), ""
}

// wants reads one want, which is several where it has several slots.
func (t *table) wants(text string) ([]want, error) {
	var w want
	if before, quoted, ok := strings.Cut(text, `"`); ok {
		if text, w.text, ok = before, strings.TrimSuffix(quoted, `"`), strings.HasSuffix(quoted, `"`); !ok || w.text == "" {
			return nil, errors.New("a message stands in quotes, at the end of its want")
		}
	}
	words := strings.Fields(text)
	if slices.Equal(words, []string{"stale"}) && t.name == "accept" {
		return []want{{stale: true, concern: t.concern()}}, nil
	}
	if len(words) < 2 {
		return nil, fmt.Errorf("%q: a want is a rule and a severity, and stale is for an acceptance", text)
	}
	if _, ok := rule.ByID(words[0]); !ok {
		return nil, fmt.Errorf("there is no rule %q", words[0])
	}
	severity := slices.Index([]string{"note", "caution", "stop"}, words[1])
	if severity < 0 {
		return nil, fmt.Errorf("there is no severity %q", words[1])
	}
	w.severity = rule.Severity(severity)
	w.concern = sheet.Concern{Rule: words[0]}
	if t.name == "row" {
		w.concern.Row, w.concern.On = t.place, sheet.OnRow
	}
	words = words[2:]
	if len(words) > 0 && words[0] == "accepted" {
		w.accepted, words = true, words[1:]
	}
	if len(words) == 0 {
		return []want{w}, nil
	}
	var all []want
	for _, word := range words {
		slot, err := strconv.Atoi(strings.TrimPrefix(word, "@"))
		switch about, is := strings.CutPrefix(word, "@"); {
		case t.name != "row" && err == nil:
			return nil, errors.New("a slot is on a row")
		case t.name != "row" && is:
			w.concern.About = strings.ReplaceAll(about, "_", " ")
			all = append(all, w)
			continue
		case err != nil || !is:
			return nil, fmt.Errorf("%q is no slot; one is written like @-3", word)
		}
		w.concern.On, w.concern.Slot = sheet.OnSlot, slot
		all = append(all, w)
	}
	return all, nil
}

// unmet compares what is found on a sheet with what its text states, and says in what they differ.
func unmet(wanted []want, rep *rule.Report) []string {
	var wrong []string
	left := slices.Clone(wanted)
	take := func(fits func(want) bool) bool {
		i := slices.IndexFunc(left, fits)
		if i >= 0 {
			left = slices.Delete(left, i, i+1)
		}
		return i >= 0
	}
	for _, f := range rep.Findings {
		if !take(func(w want) bool { return w.met(f) }) {
			wrong = append(wrong, "not wanted: "+told(f))
		}
	}
	for _, a := range rep.Stale {
		if !take(func(w want) bool { return w.stale && samePlace(w.concern, a.Concern) }) {
			wrong = append(wrong, fmt.Sprintf("not wanted: a stale acceptance of %s, %s", a.Rule, rule.Where(a.Concern)))
		}
	}
	for _, w := range left {
		wrong = append(wrong, "not found: "+w.String())
	}
	return wrong
}

func samePlace(a, b sheet.Concern) bool {
	near := math.Abs(float64(a.Row.At-b.Row.At)) < 1e-6
	a.Row.At, b.Row.At = 0, 0
	return near && a == b
}
