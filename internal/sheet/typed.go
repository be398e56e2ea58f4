package sheet

// Typed are the texts on the sheet that somebody typed: names, notes, reasons. They are shown as they were written,
// whatever stands in them.
func (s *Sheet) Typed() []string {
	texts := []string{s.Title, s.Client, s.Notes, s.HouseOf}
	for _, k := range s.KeepOff {
		texts = append(texts, k.Why)
	}
	for _, h := range s.Shades {
		texts = append(texts, h.Name, h.Toned)
	}
	for _, a := range s.Accepted {
		texts = append(texts, a.Reason, a.By)
	}
	for _, v := range s.Visits {
		texts = append(texts, v.By, v.Notes)
	}
	return texts
}
