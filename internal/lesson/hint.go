package lesson

import (
	"fmt"
	"strings"

	"example.org/underveil/internal/rule"
	"example.org/underveil/internal/sheet"
)

// HintText is the text of the n-th hint with its figures filled in from a sheet: the work as it is now, where the hint is still true
// of it, or else the start, and then it says so. The error says why the hint is not true of the start.
func (j *Judge) HintText(n int, now *sheet.Sheet) (string, error) {
	if text, err := j.hintOf(n, now); err == nil {
		return text, nil
	}
	text, err := j.hintOf(n, j.Exercise.Start)
	if err == nil && now != j.Exercise.Start {
		text = "(at the start) " + text
	}
	return text, err
}

// hintOf is the text of the n-th hint with its figures filled in from a sheet. The error says why the hint is not true of it.
func (j *Judge) hintOf(n int, s *sheet.Sheet) (string, error) {
	h := j.Exercise.Hints[n]
	rep, t, err := j.Report(s)
	if err != nil {
		return "", err
	}
	if h.Target > 0 {
		target := j.Exercise.Targets[h.Target-1]
		v := target.Value(j.Under(s), t)
		if target.Met(v) {
			return "", fmt.Errorf("target %d, %s, is met at the start", h.Target, target)
		}
		return strings.NewReplacer("{value}", number(v), "{limit}", target.Range()).Replace(h.Text), nil
	}
	for i := range rep.Findings {
		if f := &rep.Findings[i]; h.speaksOf(f) {
			return strings.NewReplacer("{value}", fmt.Sprintf("%.1f", f.Value), "{limit}", fmt.Sprintf("%.1f", f.Limit), "{where}", f.Where()).Replace(h.Text), nil
		}
	}
	where := ""
	switch {
	case h.At != nil:
		where = " at " + h.At.String()
	case h.On != nil:
		where = " at " + h.On.String()
	}
	return "", fmt.Errorf("%s reports nothing%s at the start", h.Rule, where)
}

// speaksOf reports whether a hint is about a finding.
func (h Hint) speaksOf(f *rule.Finding) bool {
	switch {
	case f.Rule != h.Rule:
		return false
	case h.At != nil:
		return f.On == sheet.OnSlot && f.Row == h.At.At && f.Slot == h.At.Slot
	case h.On != nil:
		return f.On != sheet.OnSheet && f.Row == *h.On
	}
	return true
}
