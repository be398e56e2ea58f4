package shade_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/underveil/internal/shade"
)

// near reports whether two colours are the same in each number to within a tolerance.
func near(a, b shade.Lab, within float64) bool {
	return math.Abs(a.L-b.L) <= within && math.Abs(a.A-b.A) <= within && math.Abs(a.B-b.B) <= within
}

// random is a colour with any L*, a* and b* that a reading may have.
func random(source *rand.Rand) shade.Lab {
	return shade.Lab{L: 100 * source.Float64(), A: 255*source.Float64() - 128, B: 255*source.Float64() - 128}
}

func TestRead(t *testing.T) {
	for text, want := range map[string]shade.Reading{
		"": "", " \t": "", "#c9a26b": "#c9a26b", "C9A26B": "#c9a26b", " #C9a26B ": "#c9a26b", "123456": "#123456",
		"68.2 7.1 24.5": "68.2 7.1 24.5", "68,2 7,1 24,5": "68.2 7.1 24.5", "68.2, 7.1, 24.5": "68.2 7.1 24.5",
		"68.2 , 7.1 ,24.5": "68.2 7.1 24.5", "68,2;7,1;24,5": "68.2 7.1 24.5", "68,2 ; 7,1; 24,5": "68.2 7.1 24.5",
		"68,2, 7,1, 24,5": "68.2 7.1 24.5", "(68.2 7.1 24.5)": "68.2 7.1 24.5", "[ 68.2; 7.1; 24.5 ]": "68.2 7.1 24.5",
		"Lab 68.2 7.1 24.5": "68.2 7.1 24.5", "lab(68.2, 7.1, 24.5)": "68.2 7.1 24.5", "LAB [68 7 24]": "68 7 24",
		"68.200 +7.10 24.499": "68.2 7.1 24.5", "68\u00a07\t24": "68 7 24", "0 -0 -0.004": "0 0 0", "50 −3.5 -0.005": "50 -3.5 -0.01",
		"100 127 -128": "100 127 -128", "1.005 .5 5.": "1 0.5 5", "007 00 0": "7 0 0",
	} {
		got, err := shade.Read(text)
		if err != nil || got != want {
			t.Errorf("%q: %q, %v; want %q", text, got, err, want)
		}
		if again, err := shade.Read(string(got)); err != nil || again != got {
			t.Errorf("%q is read again as %q, %v", got, again, err)
		}
	}
}

func TestReadRefused(t *testing.T) {
	for text, says := range map[string]string{
		"#12": "six hexadecimal digits", "#12345g": "six hexadecimal digits", "#1234567": "six hexadecimal digits", "#": "six hexadecimal",
		"blond": `"blond" is no number`, "68.2": "1 of the three", "68.2 7.1": "2 of the three", "1 2 3 4": "4 of the three",
		"68,2,7": "no number", "68.2,7.1,24.5": "no number", "1e1 2 3": "no number", "NaN 1 2": "no number", "Inf 1 2": "no number",
		"1 2 --3": "no number", "1 2 3;": "no number", "1;;2;3": "no number", "(1 2 3": "no number", "1 2 3]": "no number", "()": "no number",
		"lab": "no number", "labour 1 2 3": "no number", "100.01 0 0": "L* is from 0 to 100", "-1 0 0": "L* is from 0 to 100",
		"50 127.5 0": "a* is from -128 to 127", "50 0 -129": "b* is from -128 to 127", strings.Repeat("9", 400) + " 0 0": "L* is from",
	} {
		got, err := shade.Read(text)
		if err == nil || got != "" || !strings.Contains(err.Error(), says) || !strings.Contains(err.Error(), `"#c9a26b"`) {
			t.Errorf("%q: %q, %v; want an error that says %q and how a colour is written", text, got, err, says)
		}
	}
}

// FuzzRead holds every reading to be read again as itself, and to be a colour.
func FuzzRead(f *testing.F) {
	for _, text := range []string{"#c9a26b", "lab(68,2; -7.1; 24.5)", "1 2 3", "#", "()", "−1 −1 −1", "0 -.001 99999999999999999999"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := shade.Read(text)
		if again, wrong := shade.Read(string(got)); wrong != nil || again != got || err != nil && got != "" {
			t.Errorf("%q gives %q, and that %q, %v", text, got, again, wrong)
		}
		if c := got.Lab(); c.L < 0 || c.L > 100+1e-9 || math.Abs(c.A) > 128 || math.Abs(c.B) > 128 {
			t.Errorf("%q is %v", got, c)
		}
		_ = shade.Reading(text).Lab() // of anything at all
	})
}

// TestReadNumbers reads random numbers in the way that they are written, and finds them again to two decimals.
func TestReadNumbers(t *testing.T) {
	source := rand.New(rand.NewPCG(1, 2))
	for range 5000 {
		want := random(source)
		got, err := shade.Read(fmt.Sprintf("%v %v %v", want.L, want.A, want.B))
		if again, _ := shade.Read(string(got)); err != nil || !near(got.Lab(), want, 0.005+1e-9) || again != got {
			t.Fatalf("%v is read as %q, %v", want, got, err)
		}
	}
}

// TestLab checks the primaries against published values: Lindbloom's table for sRGB.
func TestLab(t *testing.T) {
	for r, want := range map[shade.Reading]shade.Lab{
		"#ff0000": {L: 53.241, A: 80.092, B: 67.203}, "#00ff00": {L: 87.735, A: -86.183, B: 83.179}, "#0000ff": {L: 32.297, A: 79.188, B: -107.860},
		"#808080": {L: 53.585}, "#ffffff": {L: 100}, "#000000": {},
		"68.2 7.1 24.5": {L: 68.2, A: 7.1, B: 24.5},
		// None of these is Read's: nothing, capitals, no sign, blanks, too many decimals, out of range, no colour at all.
		"": {}, "#FF0000": {}, "ff0000": {}, " #ff0000": {}, "1 2  3": {}, "1.234 2 3": {}, "101 0 0": {}, "1 2": {}, "red": {},
	} {
		if got := r.Lab(); !near(got, want, 0.0006) {
			t.Errorf("%q: %v, want %v", r, got, want)
		}
	}
}

// TestGreys holds every grey of sRGB to have no colour, and to be lighter than the one before.
func TestGreys(t *testing.T) {
	before := -1.0
	for v := range 256 {
		c := shade.Reading(fmt.Sprintf("#%02x%02x%02x", v, v, v)).Lab()
		if math.Abs(c.A) > 1e-9 || math.Abs(c.B) > 1e-9 || c.L <= before {
			t.Errorf("grey %d: %v, after L* of %g", v, c, before)
		}
		before = c.L
	}
}

// TestHex holds colours of sRGB to come back as they were, by way of L*a*b*, and so when they are read to two decimals.
func TestHex(t *testing.T) {
	for red := 0; red < 256; red += 15 {
		for green := 0; green < 256; green += 15 {
			for blue := 0; blue < 256; blue += 15 {
				want := shade.Reading(fmt.Sprintf("#%02x%02x%02x", red, green, blue))
				if got := want.Hex(); got != string(want) {
					t.Fatalf("%s comes back as %s", want, got)
				}
				c := want.Lab()
				typed, err := shade.Read(fmt.Sprintf("%f; %f; %f", min(c.L, 100), c.A, c.B))
				if got := typed.Hex(); err != nil || got != string(want) {
					t.Fatalf("%s comes back as %s, %v, when it is read as %s", want, got, err, typed)
				}
			}
		}
	}
	// No screen shows these: too green, too dark a blue, too light a red.
	for r, want := range map[shade.Reading]string{"88 -128 83": "#00ff00", "0 0 -128": "#00", "100 127 0": "#ff"} {
		if got := r.Hex(); !strings.HasPrefix(got, want[:3]) || len(got) != 7 {
			t.Errorf("%q: %s, want %s…", r, got, want)
		}
	}
}
