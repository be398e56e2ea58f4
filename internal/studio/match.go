package studio

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/underveil/internal/scalp"
	"example.org/underveil/internal/shade"
	"example.org/underveil/internal/sheet"
)

// Blend is strands of stock in a repeat, with what they look like mixed.
type Blend struct {
	Repeat     []*Strand // in turn, from the centre outwards
	Colour     shade.Lab
	Difference float64 // to the client's reading
}

// Close reports whether the blend is close enough, by the sheet's limit, to be fitted as it is.
func (b Blend) Close(s *sheet.Sheet) bool {
	most, _ := s.Limit(sheet.LimitShade)
	return b.Repeat != nil && b.Difference <= most
}

// Match is the blend to take: the first of Matches, and empty where there are none.
func (st *Studio) Match(s *sheet.Sheet) Blend {
	if found := st.Matches(s); found != nil {
		return found[0]
	}
	return Blend{}
}

// Matches are what there is to choose from for the client's reading, of the strands that are Suitable: first the blend to take,
// that is one shade alone as long as the eye hardly sees the difference, or else two, or else three; then the best blends
// of three and of two; and each shade alone, the nearest first. Without a reading, or any strand with one, there are none.
func (st *Studio) Matches(s *sheet.Sheet) []Blend {
	reading, _ := s.Reading()
	strands := st.Suitable(s)
	if reading == "" || len(strands) == 0 {
		return nil
	}
	target, colours := reading.Lab(), make([]shade.Lab, len(strands))
	for i, strand := range strands {
		colours[i] = strand.Colour.Lab()
	}
	var best [shade.MostKinds]Blend // of at most one shade, two, and so on
	take := -1
	for n := range best {
		found := shade.Best(target, colours, n+1, shade.MostPlaces)
		best[n] = Blend{Colour: found.Colour, Difference: found.Difference}
		for _, i := range found.Repeat {
			best[n].Repeat = append(best[n].Repeat, strands[i])
		}
		if take < 0 && found.Difference <= shade.Perceptible {
			take = n
		}
	}
	if take < 0 {
		take = len(best) - 1
	}
	list := []Blend{best[take]}
	add := func(b Blend) {
		if !slices.ContainsFunc(list, func(have Blend) bool { return slices.Equal(have.Repeat, b.Repeat) }) {
			list = append(list, b)
		}
	}
	for _, b := range slices.Backward(best[1:]) {
		add(b)
	}
	for _, near := range shade.Rank(target, colours) {
		add(Blend{Repeat: []*Strand{strands[near.Index]}, Colour: colours[near.Index], Difference: near.Difference})
	}
	return list
}

// String is the blend in words: "oat", or "2 oat, 1 rye crust" for a repeat of three.
func (b Blend) String() string {
	names, counts := b.counts()
	if len(names) == 1 {
		return names[0]
	}
	parts := make([]string, len(names))
	for i, name := range names {
		parts[i] = fmt.Sprintf("%d %s", counts[i], name)
	}
	return strings.Join(parts, ", ")
}

// LeavesOut reports whether strands of stock are left out of a match for being of another texture than the client's hair.
func (st *Studio) LeavesOut(s *sheet.Sheet) bool {
	suits := st.Suitable(s)
	return len(suits) > 0 && s.Hair.Texture != "" && suits[0].Texture == s.Hair.Texture && slices.ContainsFunc(st.Strands, func(strand Strand) bool {
		return strand.Colour != "" && strand.Length == suits[0].Length && strand.Texture != s.Hair.Texture
	})
}

// Suitable are the strands of stock whose colour was measured, of the length that serves: the shortest at least as long
// as wanted, or else the longest; of the client's texture, where there are any of that.
func (st *Studio) Suitable(s *sheet.Sheet) []*Strand {
	wanted := s.StrandLength()
	var measured []*Strand
	for i := range st.Strands {
		if strand := &st.Strands[i]; strand.Colour != "" {
			measured = append(measured, strand)
		}
	}
	alike := those(measured, func(strand *Strand) bool { return strand.Texture == s.Hair.Texture })
	if s.Hair.Texture != "" && len(alike) > 0 {
		measured = alike
	}
	length, longest := scalp.MM(math.Inf(1)), scalp.MM(0)
	for _, strand := range measured {
		longest = max(longest, strand.Length)
		if strand.Length >= wanted {
			length = min(length, strand.Length)
		}
	}
	length = min(length, longest)
	return those(measured, func(strand *Strand) bool { return strand.Length == length })
}

// those are the strands that will do.
func those(strands []*Strand, willDo func(*Strand) bool) []*Strand {
	return slices.DeleteFunc(slices.Clone(strands), func(strand *Strand) bool { return !willDo(strand) })
}

// Take puts the strands of the blend on a sheet, as shades, and is the repeat of their letters, empty where there are not
// letters enough. A shade that is there already keeps its letter and how it is to be toned.
func (b Blend) Take(s *sheet.Sheet) (*sheet.Sheet, string) {
	var repeat []byte
	for _, st := range b.Repeat {
		key := keyOf(s, st)
		if key == 0 {
			if key = s.FreeKey(); key == 0 {
				return s, "" // all letters are taken
			}
			s = s.With(func(c *sheet.Sheet) { c.Shades = append(slices.Clone(c.Shades), sheet.Shade{Key: key}) })
		}
		s = s.With(func(c *sheet.Sheet) {
			c.Shades = slices.Clone(c.Shades)
			for i := range c.Shades {
				if had := c.Shades[i]; had.Key == key {
					c.Shades[i] = st.Shade
					c.Shades[i].Key, c.Shades[i].Toned = key, had.Toned
				}
			}
		})
		repeat = append(repeat, key)
	}
	return s, string(repeat)
}

// keyOf is the letter of the shade of the sheet that is a strand of stock, or 0.
func keyOf(s *sheet.Sheet, st *Strand) byte {
	for _, h := range s.Shades {
		if h.Name == st.Name && h.Length == st.Length {
			return h.Key
		}
	}
	return 0
}

// counts are the shades of the blend, and how many strands of the repeat each has.
func (b Blend) counts() (names []string, counts []int) {
	for _, st := range b.Repeat {
		i := slices.Index(names, st.Name)
		if i < 0 {
			names, counts = append(names, st.Name), append(counts, 0)
			i = len(names) - 1
		}
		counts[i]++
	}
	return names, counts
}
