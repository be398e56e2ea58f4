package care

import (
	"slices"
	"strings"
	"testing"
)

var all = map[string][]Step{"lay out": LayOut, "fitting": Fitting, "removing": Removing, "aftercare": Aftercare, "watch for": WatchFor}

func TestEveryStepIsWholeAndHasASource(t *testing.T) {
	for name, steps := range all {
		seen := map[string]bool{}
		for _, s := range steps {
			switch {
			case s.Do == "" || s.Source == "":
				t.Errorf("%s: a step without words or without a source: %+v", name, s)
			case seen[s.Do]:
				t.Errorf("%s: %q is there twice", name, s.Do)
			case strings.TrimSpace(s.Do) != s.Do || strings.TrimSpace(s.Caution) != s.Caution:
				t.Errorf("%s: %q has blanks round it", name, s.Do)
			}
			seen[s.Do] = true
		}
	}
	for _, s := range WatchFor {
		if s.Caution == "" {
			t.Errorf("%q does not say what to do", s.Do)
		}
	}
}

// at is the first step that speaks of something, in what is done or in its caution.
func at(t *testing.T, steps []Step, of string) int {
	t.Helper()
	i := slices.IndexFunc(steps, func(s Step) bool {
		return strings.Contains(strings.ToLower(s.Do+" "+s.Caution), of)
	})
	if i < 0 {
		t.Fatalf("nothing is said of %q", of)
	}
	return i
}

// The cautions stand where they are of use: before what they warn of, or with it.
func TestTheOrderKeepsPeopleSafe(t *testing.T) {
	if look, bond := at(t, Fitting, "look before any heat"), at(t, Fitting, "bond each"); look >= bond {
		t.Error("the look before any heat comes after it")
	}
	if Fitting[at(t, Fitting, "bond each")].Caution == "" || !strings.Contains(Fitting[at(t, Fitting, "bond each")].Caution, "off the scalp") {
		t.Error("heat off the scalp does not stand with the bonding")
	}
	if at(t, Fitting, "sore") != 0 || at(t, Removing, "sore") != 0 {
		t.Error("the scalp is not looked at first")
	}
	warm, open := at(t, Removing, "warm it dry"), at(t, Removing, "open the remover")
	if warm >= open {
		t.Error("a bond is warmed when the remover is open")
	}
	if air := at(t, Removing, "window open"); air >= open {
		t.Error("the window is opened after the remover")
	}
	if gloves := at(t, Removing, "gloves on"); gloves >= open {
		t.Error("gloves are put on after the remover is opened")
	}
	if !strings.Contains(Removing[at(t, Removing, "slide the strand")].Caution, "more remover and more time, never force") {
		t.Error("more remover, never force, does not stand with the strand that is slid out")
	}
	at(t, Fitting, "pain means stop and loosen")
	at(t, Removing, "pain means stop")
}

// Nothing here says that something is safe, or puts a figure to what a person stands.
func TestNothingClearsAnybody(t *testing.T) {
	for name, steps := range all {
		for _, s := range steps {
			for _, word := range []string{" safe", "harmless", "allowed", "cure", "°", " mg", " grams"} {
				if text := strings.ToLower(s.Do + " " + s.Caution); strings.Contains(text, word) {
					t.Errorf("%s: %q has %q in it", name, s.Do, word)
				}
			}
		}
	}
}

// Each step that can hurt has its caution beside it.
func TestCautionsStandAtTheirSteps(t *testing.T) {
	for _, c := range []struct {
		steps         []Step
		step, caution string
	}{
		{LayOut, "remover", "burns"},
		{LayOut, "gloves", "asked"},
		{Fitting, "look at hair and scalp", "doctor or licensed practitioner"},
		{Fitting, "pull hair", "before any heat"},
		{Fitting, "bond each", "off the scalp"},
		{Fitting, "look again", "pain means stop"},
		{Removing, "count what is still in", "doctor looks first"},
		{Removing, "window open", "solvent is breathed in"},
		{Removing, "warm it dry", "before any remover is open"},
		{Removing, "warm it dry", "heat stays off the scalp"},
		{Removing, "open the remover", "no flame"},
		{Removing, "remover on the bond", "not on the scalp"},
		{Removing, "remover on the bond", "in an eye"},
		{Removing, "press the bond", "pain means stop"},
		{Removing, "slide the strand", "never force"},
		{Removing, "look at every place", "doctor"},
		{WatchFor, "pain", "doctor"},
		{WatchFor, "itching", "emergency number"},
	} {
		i := slices.IndexFunc(c.steps, func(s Step) bool { return strings.Contains(strings.ToLower(s.Do), c.step) })
		if i < 0 || !strings.Contains(strings.ToLower(c.steps[i].Caution), c.caution) {
			t.Errorf("%q does not say %q", c.step, c.caution)
		}
	}
}
