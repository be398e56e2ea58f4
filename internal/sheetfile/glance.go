package sheetfile

import "example.org/underveil/internal/sheet"

// Glance reads the sheet in a file for what it says, as a list of many sheets needs it. It reads as strictly as Load, but
// does not fit the sheet to its head, which takes most of the time: tapes that fit no head, points moved off it and rows that
// lie on no line of the map are not found. A sheet that Load takes it gives as Load does. Its error is an Errors.
func Glance(path string) (*sheet.Sheet, error) {
	data, bad := read(&headSheet, path)
	if bad != nil {
		return nil, Errors{bad}
	}
	s, _, err := decode(path, data, false)
	return s, err
}
