package sheet

import "example.org/underveil/internal/shade"

// Reading is the client's reading that strands are matched to, and where on the hair it was taken, in words: at the ends
// where length is wished for, since that is where they go on alone, and else halfway; the next best where it was not
// taken there. It is empty where none was taken. Common practice, no source.
func (s *Sheet) Reading() (r shade.Reading, where string) {
	type taken struct {
		shade.Reading
		where string
	}
	root, mid, ends := taken{s.Hair.Root, "at the root"}, taken{s.Hair.Mid, "halfway"}, taken{s.Hair.Ends, "at the ends"}
	order := []taken{mid, ends, root}
	if s.Wishes(Length) {
		order = []taken{ends, mid, root}
	}
	for _, have := range order {
		if have.Reading != "" {
			return have.Reading, have.where
		}
	}
	return "", ""
}
