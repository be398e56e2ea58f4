package sheetfile

// Meant is the word that somebody probably meant, or empty when none is near.
func Meant(typed string, words []string) string { return nearest(typed, words) }
