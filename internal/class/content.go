package class

import (
	"cmp"
	"crypto/sha256"
	"slices"
	"strings"

	"example.org/underveil/internal/lesson"
	"example.org/underveil/internal/sheet"
	"example.org/underveil/internal/sheetfile"
)

// content is a digest over what of an attempt counts, whoever handed it in and whatever it is called.
type content [sha256.Size]byte

// contentOf is the content of an attempt: its sheet but for title, client, date, notes and by whom and how long its visits were, what
// was marked, looked at and measured, in whatever order.
func contentOf(a *lesson.Attempt) content {
	bare := &lesson.Attempt{Sheet: a.Sheet.With(func(c *sheet.Sheet) {
		c.Title, c.Client, c.Date, c.Notes = "", "", "", ""
		c.Visits = slices.Clone(c.Visits)
		for i := range c.Visits {
			c.Visits[i].By, c.Visits[i].Notes, c.Visits[i].Seconds = "", "", 0
		}
		c.Accepted = slices.Clone(c.Accepted)
		for i := range c.Accepted {
			c.Accepted[i].By, c.Accepted[i].Date = "", ""
		}
	})}
	bare.Seen = a.Seen // in order as they are read
	bare.Found = slices.SortedFunc(slices.Values(a.Found), func(a, b sheet.Concern) int {
		return cmp.Or(spot(a).Compare(spot(b)), strings.Compare(a.Rule, b.Rule))
	})
	bare.Off = slices.SortedFunc(slices.Values(a.Off), func(a, b lesson.Off) int { return a.Spot.Compare(b.Spot) })
	return sha256.Sum256(sheetfile.EncodeAttempt(bare, nil))
}

func spot(c sheet.Concern) sheet.Spot { return sheet.Spot{At: c.Row, Slot: c.Slot} }

// knownOf are the contents that are no work of a learner's: the start, and where the answer is one of many, the answer too.
func knownOf(by Terms) map[content]string {
	known := map[content]string{contentOf(&lesson.Attempt{Sheet: by.Exercise.Start}): "the start, untouched"}
	if by.Exercise.Task != lesson.Find {
		known[contentOf((&lesson.Judge{Exercise: by.Exercise}).Answered())] = "the worked answer"
	}
	return known
}
