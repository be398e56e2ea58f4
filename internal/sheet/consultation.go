package sheet

import "maps"

// Consultation is what was asked before anything is planned. It clears nobody: a yes is for a doctor or a
// licensed practitioner to decide on.
type Consultation struct {
	Answers   map[QuestionID]Answer // a question that is not there has not been asked
	PatchTest string                // when it was done, ISO 8601, or empty
	Agreed    string                // when the client signed, ISO 8601, or empty
}

// Answer is the answer to a question about scalp and skin.
type Answer string

// The answers. NotAsked is what a question has to begin with.
const (
	NotAsked Answer = ""
	No       Answer = "no"
	Yes      Answer = "yes"
)

// Answers lists what a file may say.
var Answers = []Answer{No, Yes}

// QuestionID names a question about scalp and skin.
type QuestionID string

// Question is one question about scalp and skin, with why it is asked.
type Question struct {
	ID     QuestionID
	Asks   string
	Reason string
}

// Questions are the questions about scalp and skin, in the order in which they are asked: the usual cautions for
// hair that is bonded on. Common practice; the first four follow what dermatologists warn of (Haskin and Aguh 2016,
// Billero and Miteva 2018).
var Questions = []Question{
	{"shedding", "more hair coming out than usual, or patches where it is thin", "hair that is being lost must not carry more; the cause is looked for first"},
	{"sore", "a scalp that is sore, itches, flakes or is broken", "heat, bond and pull on skin that is inflamed make it worse and can scar"},
	{"pulled", "pain, headache or hair lost from a tight style", "hair lost from pull comes again where there is pull, and late it does not grow back"},
	{"relaxed", "hair relaxed, bleached or permed of late, or that breaks", "weakened hair breaks under the strand before the root lets go"},
	{"illness", "chemotherapy, radiotherapy, a fever or a birth in the past year", "hair may still be shed months later, with the strands in it"},
	{"skin", "a condition of the scalp that is or was treated", "who treats it knows what the skin stands"},
	{"reaction", "a reaction to adhesive, solvent, latex or hair colour", "bond, remover and gloves can bring it again"},
}

// Answer is the answer to a question.
func (c Consultation) Answer(q QuestionID) Answer { return c.Answers[q] }

// With is the consultation with another answer to a question.
func (c Consultation) With(q QuestionID, a Answer) Consultation {
	answers := map[QuestionID]Answer{}
	for id, had := range c.Answers {
		if id != q {
			answers[id] = had
		}
	}
	if a != NotAsked {
		answers[q] = a
	}
	if c.Answers = answers; len(answers) == 0 {
		c.Answers = nil
	}
	return c
}

// Equal reports whether two consultations say the same.
func (c Consultation) Equal(d Consultation) bool {
	return maps.Equal(c.Answers, d.Answers) && c.PatchTest == d.PatchTest && c.Agreed == d.Agreed
}

// Open are the questions that have not been asked.
func (c Consultation) Open() []Question { return c.answered(NotAsked) }

// AnsweredYes are the questions answered with yes.
func (c Consultation) AnsweredYes() []Question { return c.answered(Yes) }

func (c Consultation) answered(with Answer) []Question {
	var list []Question
	for _, q := range Questions {
		if c.Answer(q.ID) == with {
			list = append(list, q)
		}
	}
	return list
}

// Question finds a question.
func (q QuestionID) Question() (Question, bool) {
	for _, have := range Questions {
		if have.ID == q {
			return have, true
		}
	}
	return Question{}, false
}
