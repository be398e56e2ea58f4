package class

import (
	"encoding/json"
	"io"
)

// JSON writes the class as one JSON object, in a format with a number. The error is that of w.
func (c *Class) JSON(w io.Writer) error {
	j := jsonClass{Format: 1, Exercise: c.ID, Title: c.Title, LimitsOf: c.LimitsOf, Unsolved: c.Unsolved, HandedIn: len(c.HandIns), Passed: c.Count(Passed), NotYet: c.Count(NotYet),
		NotRead: c.Count(NotRead), Elsewhere: c.Count(Elsewhere), HandIns: []jsonHandIn{}, Missed: []jsonMissed{}, Same: []jsonSame{}}
	if c.Marked() > 0 {
		mean := c.Mean()
		j.Mean = &mean
	}
	for _, h := range c.HandIns {
		j.HandIns = append(j.HandIns, h.json())
	}
	for _, m := range c.Missed {
		j.Missed = append(j.Missed, jsonMissed{m.What, m.By, c.Marked(), m.Wrongly})
	}
	for _, s := range c.Same {
		j.Same = append(j.Same, jsonSame(s))
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(j)
}

func (h HandIn) json() jsonHandIn {
	j := jsonHandIn{File: h.File, Learner: h.Learner, Date: h.Date, State: string(h.State), Reason: h.Why, Like: h.Like, Answer: h.Seen,
		Assessor: h.Assessor, Seal: h.Unsealed}
	if !h.Marked() {
		return j
	}
	j.jsonMark = &jsonMark{Met: h.Met, Of: h.Of, Share: h.Share, Next: h.Next, All: []jsonPoint{}}
	if !h.Plain {
		j.Hints = &h.Hints
	}
	for _, p := range h.Points {
		j.All = append(j.All, jsonPoint(p))
	}
	return j
}

// jsonClass is how a class is written as JSON. Shares are in %.
type jsonClass struct {
	Format    int          `json:"format"`
	Exercise  string       `json:"exercise"`
	Title     string       `json:"title"`
	LimitsOf  string       `json:"limits_of,omitempty"`
	Unsolved  string       `json:"answer_does_not_pass,omitempty"`
	HandedIn  int          `json:"handed_in"`
	Passed    int          `json:"passed"`
	NotYet    int          `json:"not_yet"`
	NotRead   int          `json:"not_read"`
	Elsewhere int          `json:"other_exercise"`
	Mean      *float64     `json:"mean_share,omitempty"`
	HandIns   []jsonHandIn `json:"hand_ins"`
	Missed    []jsonMissed `json:"missed"`
	Same      []jsonSame   `json:"same"`
}

type jsonHandIn struct {
	File    string `json:"file"`
	Learner string `json:"learner,omitempty"`
	Date    string `json:"date,omitempty"`
	State   string `json:"state"`
	Reason  string `json:"reason,omitempty"`
	*jsonMark
	Like     string `json:"like,omitempty"`
	Answer   bool   `json:"answer_seen,omitempty"`
	Assessor string `json:"assessor,omitempty"`
	Seal     string `json:"seal,omitempty"`
}

type jsonMark struct {
	Met   int         `json:"met"`
	Of    int         `json:"of"`
	Share float64     `json:"share"`
	Hints *int        `json:"hints,omitempty"`
	Next  string      `json:"next,omitempty"`
	All   []jsonPoint `json:"points"`
}

type jsonPoint struct {
	What string `json:"what"`
	Why  string `json:"why"`
	Met  bool   `json:"met"`
	Off  bool   `json:"takes_one_off,omitempty"`
}

type jsonMissed struct {
	What    string `json:"what"`
	By      int    `json:"by"`
	Of      int    `json:"of"`
	Wrongly bool   `json:"wrongly,omitempty"`
}

type jsonSame struct {
	Like  string   `json:"like,omitempty"`
	Files []string `json:"files"`
}
