package lesson

import "example.org/underveil/internal/sheet"

// AttemptOf is an attempt at an exercise as it lies on a sheet.
func AttemptOf(x *Exercise, s *sheet.Sheet) *Attempt {
	return &Attempt{Exercise: x.ID, Sheet: s, Found: s.Tried.Marked, Off: s.Tried.Off, Seen: s.Tried.Seen}
}

// Tried is the sheet of the attempt with all that was done besides lying on it, as AttemptOf takes it off.
func (a *Attempt) Tried() *sheet.Sheet {
	return a.Sheet.With(func(c *sheet.Sheet) { c.Tried = sheet.Tried{Marked: a.Found, Off: a.Off, Seen: a.Seen} })
}
