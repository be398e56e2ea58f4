// Package care is what is done at the chair and afterwards, step by step, with the caution that belongs to each step, and
// what a client does and watches for at home. It is plain data: the card, the editor and the commands show the same.
//
// Nothing here is a medical limit, and nothing clears anybody. Local codes and licensed practice decide, what the maker of a
// bond or a remover says goes before what stands here, and what is wrong with skin is for a doctor.
package care

import "example.org/underveil/internal/sheet"

// Step is one step.
type Step struct {
	Do      string // what is done, or for WatchFor what is noticed
	Caution string // what belongs to it, or for WatchFor what to do; may be empty
	Source  string // where the caution comes from
}

// Sources of the cautions that have one. How far each was read stands with the facts that the limits come from.
const (
	practice  = sheet.Practice
	pain      = "American Academy of Dermatology, 10 March 2020: pain or headache means too tight"
	traction  = "Billero and Miteva 2018: hair loss from pull grows with pull and time, and late it does not grow back"
	tightTail = "Haskin and Aguh 2016, as reported: tight ponytails are among the styles with the highest risk, loose ones with the lowest"
	wetComb   = "J Soc Cosmet Chem 24:778 (1973): a wet tress takes seven times the force of a dry one to comb"
	heat      = "Int J Cosmet Sci 1984;6:201: little change of hair below 140 °C, deep and lasting change above"
	air       = "limits for acetone in the air of a workplace: OSHA 29 CFR 1910.1000, as reported; Cal/OSHA table AC-1. Dust masks are no recommended control: HSE RR623 (2008)"
	burns     = "common practice, no source; removers of spirit and acetone burn"
	shed      = "Loussouarn 2005: 12 % of hairs rest at any time; how long they rest is from memory"
	gloves    = "HSE RR623 (2008): over three quarters of the gloves in 205 premises were of latex"
)

// LayOut is what lies ready before the first parting. What can be counted on a sheet, strands and strips, comes before it.
var LayOut = []Step{
	{"tail comb, sectioning clips", "", practice},
	{"bonding tool on its stand", "The tool is switched on when the first row is parted, not before.", practice},
	{"heat shield for under the bond", "It goes between tool and scalp.", practice},
	{"remover, closed, away from the tool", "It burns.", burns},
	{"gloves, latex only if nobody reacts", "Stylist and client are both asked.", gloves},
	{"cloth, water, hand mirror", "", practice},
}

// Fitting is one fitting, in order. The steps from the parting to the strip are those of every row.
var Fitting = []Step{
	{"Look at hair and scalp once more.", "Sore, scarred or thin: no strand there. A doctor or licensed practitioner decides.", practice},
	{"Part the row. Strip on, a clip at each end.", "Clips hold hair and strip, never skin.", practice},
	{"Pull hair through each hole of the pattern.", "Look before any heat: too much, too little, direction.", practice},
	{"Bond each strand, a little off the scalp.", "Heat off the scalp, shield below, no hotter than needed.", heat},
	{"Look again when cold, then strip off.", "Sealed, straight, free? Pain means stop and loosen.", pain},
	{"Last, feel along every row, cut to blend.", "Solvent to clean up: window open, no flame.", air},
}

// Removing is how bonds are taken out, in order.
var Removing = []Step{
	{"Count what is still in: fitted, less lost.", "Sore or broken scalp: stop, a doctor looks first.", practice},
	{"Window open or extraction on, cloth round the neck, gloves on.", "Solvent is breathed in as well: move the air. A dust mask does not help.", air},
	{"A bond that its maker says is warmed: warm it dry, the tool on the bond alone.", "Before any remover is open, for it burns. Heat stays off the scalp.", burns},
	{"Tool off, and away. Open the remover.", "No flame, no hot tool, nobody smoking near it.", burns},
	{"Remover on the bond, from both sides; wait as its maker says.", "On the bond, not on the scalp; off eyes and skin. What runs is wiped off at once. In an eye: rinse with water at once, and see a doctor.", practice},
	{"Press the bond along its length until it gives.", "Press it, do not bend or twist it. Pain means stop.", pain},
	{"Slide the strand down and out.", "It does not slide: more remover and more time, never force.", practice},
	{"Comb out from the ends up, each place as it comes.", "Long shed hairs come out with a strand, weeks of them together. Short broken ones are damage: stop and look.", shed},
	{"Wash remover and remains out. Look at every place where a bond was.", "Red, sore or bare: note it on the sheet; it is for a doctor.", practice},
}

// Mending is what belongs to every bond that is opened or warmed again.
const Mending = "Heat off the scalp, no remover open beside it; more remover, never force. Pain means stop."

// Aftercare is what the client does at home.
var Aftercare = []Step{
	{"For two days keep the hair dry and leave it down.", "", practice},
	{"Brush from the ends up, morning and night, and hold the hair at the bonds while you do.", "", practice},
	{"Run your fingers between the bonds every day, so that nothing mats.", "", practice},
	{"Wash with the head upright, in lukewarm water, and do not rub the bonds.", "", practice},
	{"No conditioner, oil or mask on the bonds. On the lengths they do good.", "", practice},
	{"Wet hair: a wide comb and patience.", "It takes far more force to comb than dry hair.", wetComb},
	{"Dry the bonds first, lukewarm, and never go to bed with wet hair.", "", practice},
	{"Keep irons and tongs off the bonds.", "They soften with heat.", practice},
	{"For the night, and for swimming, a loose plait.", "", practice},
	{"Tie the hair up loosely, and not always in the same place.", "Nothing may pull.", tightTail},
	{"Do not take out a strand yourself.", "What is pulled brings your own hair with it.", practice},
}

// WatchFor is what the client looks out for, with what to do.
var WatchFor = []Step{
	{"Pain, a headache, or a pull that does not let up", "Call the same day: it is loosened or taken out. If it stays, see a doctor.", pain},
	{"Itching, redness, swelling, a wet or sore place", "Call, and see a doctor. Take nothing out yourself. Face or throat swells, or breathing is hard: the emergency number, at once.", practice},
	{"A strand that slips down, twists or comes loose", "Leave it, keep it if it is out, and call.", practice},
	{"Thin places, short broken hairs, or much more hair in the brush than before", "Call, and see a doctor: the sooner the better.", traction},
}

// Normal is what a client may take for damage and is none. The card puts the share of hairs after it.
const Normal = "Hairs that you would have lost in the brush stay in the bond until it comes out, and then come out with it, many at once. That alone is no damage; short broken hairs or a bare place are for a doctor."

// NormalSource is where it comes from.
const NormalSource = shed
