package sheet

import (
	"slices"

	"example.org/underveil/internal/scalp"
)

// Tried is what a learner did on a practice sheet besides changing it. It lies on the sheet so that it is undone and done again
// with everything else. It is never changed: its methods make others.
type Tried struct {
	Marked []Concern // slots marked as wrong, each with the rule that was named
	Seen   []Spot    // planned slots that were looked at on a training head
	Off    []Off     // bonds on a training head that do not lie in the middle of their slot
}

// Off is how far a bond on a training head lies from the middle of its slot, measured along the scalp.
type Off struct {
	Spot
	Right scalp.MM // to the client's right; of a row front to back towards the face
	Up    scalp.MM // up the head; of a row front to back to the client's right
}

// MarkedAt is the rule that was named for a slot, or empty.
func (t Tried) MarkedAt(at Spot) string {
	for _, c := range t.Marked {
		if c.Row == at.At && c.Slot == at.Slot {
			return c.Rule
		}
	}
	return ""
}

// WithMark names the rule that a slot breaks; no rule takes the mark away.
func (t Tried) WithMark(at Spot, rule string) Tried {
	t.Marked = slices.DeleteFunc(slices.Clone(t.Marked), func(c Concern) bool { return c.Row == at.At && c.Slot == at.Slot })
	if rule != "" {
		t.Marked = append(t.Marked, Concern{Rule: rule, Row: at.At, On: OnSlot, Slot: at.Slot})
	}
	return t
}

// Looked reports whether a planned slot was looked at.
func (t Tried) Looked(at Spot) bool { return slices.Contains(t.Seen, at) }

// WithSeen is the same with one more slot looked at.
func (t Tried) WithSeen(at Spot) Tried {
	if !t.Looked(at) {
		t.Seen = append(slices.Clip(t.Seen), at)
	}
	return t
}

// WithoutSeen is the same with a slot not looked at.
func (t Tried) WithoutSeen(at Spot) Tried {
	t.Seen = slices.DeleteFunc(slices.Clone(t.Seen), func(s Spot) bool { return s == at })
	return t
}

// Any reports whether anything was done besides.
func (t Tried) Any() bool { return len(t.Marked)+len(t.Seen)+len(t.Off) > 0 }

// Same reports whether two say the same, in whatever order.
func (t Tried) Same(u Tried) bool {
	return sameSet(t.Marked, u.Marked) && sameSet(t.Seen, u.Seen) && sameSet(t.Off, u.Off)
}

// sameSet reports whether two lists, each without anything twice, have the same in them.
func sameSet[T comparable](a, b []T) bool {
	return len(a) == len(b) && !slices.ContainsFunc(a, func(x T) bool { return !slices.Contains(b, x) })
}

// OffAt is how far the bond in a slot lies off its middle.
func (t Tried) OffAt(at Spot) Off {
	for _, o := range t.Off {
		if o.Spot == at {
			return o
		}
	}
	return Off{Spot: at}
}

// WithOff records how far a bond lies off the middle of its slot; nothing where it does not.
func (t Tried) WithOff(off Off) Tried {
	t.Off = slices.DeleteFunc(slices.Clone(t.Off), func(o Off) bool { return o.Spot == off.Spot })
	if off.Right != 0 || off.Up != 0 {
		t.Off = append(t.Off, off)
	}
	return t
}

// WithMark names the rule that a slot breaks, as a learner sees it; no rule takes the mark away.
func (s *Sheet) WithMark(at Spot, rule string) *Sheet {
	return s.change(func(c *Sheet) { c.Tried = c.Tried.WithMark(at, rule) })
}
