package wire

import "lanewright/planner"

// ExplanationFormat names the shape of Explanation, as Format does that of Plan.
const ExplanationFormat = "lanewright.explanation/1"

// Explanation tells in plain sentences how a loop came to be what it is.
type Explanation struct {
	Format   string    `json:"format" enum:"lanewright.explanation/1"`
	Part     string    `json:"part"`
	Cell     string    `json:"cell"`
	Station  string    `json:"station"`
	Sections []Section `json:"sections"`
}

// Section is one part of an explanation.
type Section struct {
	Title     string     `json:"title"`
	Sentences []Sentence `json:"sentences"`
}

// Sentence says one thing and names what it rests on.
type Sentence struct {
	Text   string      `json:"text"`
	Values []FactValue `json:"values"`
}

// FactValue is a fact that went into a result.
type FactValue struct {
	Name    string `json:"name"`
	Text    string `json:"text" doc:"the value with its unit"`
	Origin  Origin `json:"origin" doc:"where the sheets give it; empty where a setting counts"`
	Setting string `json:"setting,omitempty" doc:"key of the plant's setting that counts where the sheets give none"`
}

// NewExplanation converts an explanation.
func NewExplanation(e planner.Explanation) *Explanation {
	return &Explanation{
		Format: ExplanationFormat, Part: string(e.Loop.Part), Cell: string(e.Loop.Cell), Station: string(e.Loop.Station),
		Sections: convert(e.Sections, func(s planner.Section) Section {
			return Section{s.Title, convert(s.Sentences, newSentence)}
		}),
	}
}

func newSentence(s planner.Sentence) Sentence {
	return Sentence{s.Text, convert(s.Values, func(v planner.Value) FactValue {
		return FactValue{v.Name, v.Text, newOrigin(v.Origin), v.Setting}
	})}
}
