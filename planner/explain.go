package planner

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"

	"lanewright/planner/demand"
	"lanewright/planner/finding"
	"lanewright/planner/plant"
	"lanewright/planner/units"
)

// Explanation tells how a loop came to be what it is, in the order in which a
// colleague would tell it.
type Explanation struct {
	Loop     demand.Key
	Sections []Section
}

// Section is one part of an explanation.
type Section struct {
	Title     string
	Sentences []Sentence
}

// Sentence says one thing in plain words; Values are the numbers that it rests
// on, with the place in the sheets where each can be changed.
type Sentence struct {
	Text   string
	Values []Value
}

// Value is a number or a word that went into a result.
type Value struct {
	Name string
	// Text is the value as people write it, with its unit.
	Text string
	// Origin is where the sheets give it. Where they do not, Setting is the key of
	// the plant's setting that counts instead (see Settings.Set).
	Origin  finding.Origin
	Setting string
}

// Loop explains one loop; ok is false where the plan has no such loop or the facts lack
// its part or container.
func (r *Reasons) Loop(key demand.Key) (e Explanation, ok bool) {
	facts, p := r.index.Plant, r.plan
	at := slices.IndexFunc(p.Loops, func(l Loop) bool { return l.Key == key })
	if at < 0 {
		return e, false
	}
	x := explainer{Reasons: r, plant: facts, loop: p.Loops[at], settings: p.Settings.Plant}
	if x.index.Parts[key.Part] == nil || x.index.Containers[x.loop.Container] == nil {
		return e, false
	}
	for _, u := range facts.Usage {
		if (demand.Key{Part: u.Part, Cell: u.Cell, Station: u.Station}) == key {
			x.rows = append(x.rows, u)
		}
	}
	x.terms = demand.Terms(x.index, x.settings, x.loop.Loop.Loop)
	return Explanation{Loop: key, Sections: r.inUnits([]Section{
		x.use(), x.rule(), x.inputs(), x.result(), x.marks(), x.lies(), x.places(), x.containers(), x.steps(),
	})}, true
}

// inUnits writes what sections say in the plant's units.
func (r *Reasons) inUnits(list []Section) []Section {
	local := func(text *string) { *text = r.speech.Local(*text) }
	for i := range list {
		for j := range list[i].Sentences {
			one := &list[i].Sentences[j]
			local(&one.Text)
			for k := range one.Values {
				local(&one.Values[k].Text)
			}
		}
	}
	return list
}

// explainer holds what the sections tell about.
type explainer struct {
	*Reasons
	plant    *plant.Plant
	loop     Loop
	settings plant.Settings
	// rows are the loop's usage rows in the order of the sheet, terms what each
	// adds to the rate.
	rows  []plant.Usage
	terms []demand.Term
}

// say adds a sentence to s.
func (s *Section) say(text string, values ...Value) {
	s.Sentences = append(s.Sentences, Sentence{text, values})
}

// use tells how fast the loop is used and how that came about.
func (x *explainer) use() Section {
	s := Section{Title: "How fast it is used"}
	l := x.loop
	for _, t := range x.terms {
		s.say(t.String()+".", x.termValues(t)...)
	}
	s.say(fmt.Sprintf("That is %s pieces an hour of work, or %s containers of %d. Cell %s works %s net minutes a day.",
		people(60*l.Rate.Float64()), people(60*l.Rate.Float64()/float64(l.Pack)), l.Pack, l.Cell, people(l.Day.Float64())))
	return s
}

// termValues are the cells that one usage row's part of the rate came from.
func (x *explainer) termValues(t demand.Term) []Value {
	if t.Product == "" {
		name, text := "pieces per hour", people(t.PerHour.Float64())
		if t.PerHour.IsZero() {
			name, text = "pieces per day", people(t.PerDay.Float64())
		}
		return []Value{{Name: name, Text: text, Origin: t.Origin}}
	}
	built := Value{Name: "units per day of " + string(t.Product), Text: people(t.UnitsPerDay.Float64()), Origin: t.ProductOrigin}
	if t.MeanTaken {
		built.Name += ", by the history"
	}
	list := []Value{
		built,
		{Name: "quantity per unit", Text: people(t.PerUnit.Float64()), Origin: t.Origin},
	}
	if t.Scrap.Sign() > 0 {
		row := t.Origin
		row.Column = ""
		list = append(list, Value{Name: "scrap", Text: share100(t.Scrap), Origin: x.plant.At(row, "Scrap")})
	}
	return list
}

// rule tells which demand model sized the loop and why.
func (x *explainer) rule() Section {
	s := Section{Title: "The rule"}
	l := x.loop
	named := slices.IndexFunc(x.rows, func(u plant.Usage) bool { return u.Model == l.Model })
	asked := slices.ContainsFunc(x.rows, func(u plant.Usage) bool { return u.Model != plant.DefaultModel })
	text := fmt.Sprintf("The %s rule is used: it %s.", l.Model, covers(l.Model))
	switch {
	case named >= 0:
		s.say(text+" The sheet asks for it.", Value{Name: "demand model", Text: string(l.Model), Origin: x.plant.At(x.rows[named].Origin, "Demand model")})
	case asked:
		s.say(text + " The sheet asks for another, but what that needs is not there; a finding says what.")
	case l.Variance.IsZero():
		s.say(text + " No row gives a variation, so its use is taken as even.")
	default:
		s.say(text + " The use varies from day to day.")
	}
	if l.Model == plant.NormalModel || l.Model == plant.NegativeBinomialModel {
		s.say(fmt.Sprintf("A day's use has a standard deviation of %s pieces around a mean of %s.",
			people(root(l.Variance.Mul(l.Day))), people(l.Rate.Mul(l.Day).Float64())), x.variations()...)
	}
	if l.Model == plant.EmpiricalModel {
		s.say(fmt.Sprintf("It reads %d days of history.", len(l.Days)))
	}
	return s
}

// covers says what a demand model does.
func covers(m plant.DemandModel) string {
	switch m {
	case plant.SteadyModel:
		return "covers the mean use and the safety on top"
	case plant.PoissonModel:
		return "takes single pieces as wanted at random, and covers what is not exceeded at the service level"
	case plant.NegativeBinomialModel:
		return "takes use as wanted at random in lumps, and covers what is not exceeded at the service level"
	case plant.EmpiricalModel:
		return "covers what the days of the history did not exceed at the service level"
	default:
		return "takes use as spread around its mean, and covers what is not exceeded at the service level"
	}
}

// variations are the cells that the loop's variation came from; where the history
// decided that is said.
func (x *explainer) variations() []Value {
	var list []Value
	seen := map[plant.ProductCode]bool{}
	for _, t := range x.terms {
		if t.Variation.IsZero() || t.Product != "" && seen[t.Product] {
			continue
		}
		seen[t.Product] = true
		v := Value{Name: "variation of the row", Text: people(t.Variation.Float64()), Origin: t.Origin}
		if t.Product != "" {
			v.Name, v.Origin = "variation of "+string(t.Product), t.ProductOrigin
		}
		v.Origin.Column = ""
		v.Origin = x.plant.At(v.Origin, "Variation")
		if t.VariationTaken {
			v.Name, v.Origin, v.Setting = v.Name+", by the history", finding.Origin{}, "history_use"
		}
		list = append(list, v)
	}
	return list
}

// asked finds the row that gave a value; where none did the setting counts.
func (x *explainer) asked(name, text, field, setting string, gives func(plant.Usage) bool) Value {
	v := Value{Name: name, Text: text, Setting: setting}
	if at := slices.IndexFunc(x.rows, gives); at >= 0 {
		v.Origin, v.Setting = x.plant.At(x.rows[at].Origin, field), ""
	}
	return v
}

// inputs lists the numbers that the rule was given.
func (x *explainer) inputs() Section {
	s := Section{Title: "What went in"}
	l := x.loop
	interval := x.asked("refill interval R", wait(l.Interval), "Refill interval", "refill_interval_min", func(u plant.Usage) bool { return u.Interval == l.Interval })
	response := x.asked("response time L", wait(l.Response), "Response time", "response_min", func(u plant.Usage) bool { return u.Response == l.Response })
	text := "A round comes every R; the full container is there L after its signal was collected."
	if response.Setting != "" && x.settings.Response == 0 {
		text += " No response time is given, so it is the interval: what one round collects the next one brings."
	}
	s.say(text, interval, response)
	s.say(x.promise(), x.promised()...)
	part := x.index.Parts[l.Part]
	s.say(fmt.Sprintf("A full container %s holds the standard pack.", l.Container),
		Value{Name: "standard pack", Text: fmt.Sprintf("%d pieces", l.Pack), Origin: x.plant.At(part.Origin, "Standard pack")})
	return s
}

// promise says what the service level or the safety means for the loop.
func (x *explainer) promise() string {
	switch l := x.loop; {
	case l.Model == plant.SteadyModel:
		return "Safety is added to the mean use."
	case l.Measure == plant.ServiceFillRate:
		return "The service level is the share of pieces that shall be there when they are wanted."
	case x.settings.Measure == plant.ServicePerYear:
		return fmt.Sprintf("The plant allows %s shortages a year for each loop; for one refill cycle that leaves this chance of none.", people(x.settings.ShortagesPerYear.Float64()))
	default:
		return "The service level is how often a refill cycle shall pass with no shortage."
	}
}

func (x *explainer) promised() []Value {
	l := x.loop
	if l.Model == plant.SteadyModel {
		return []Value{x.asked("safety", share100(l.Safety), "Safety", "safety", func(u plant.Usage) bool { return u.Safety != nil && u.Safety.Equal(l.Safety) })}
	}
	if x.settings.Measure == plant.ServicePerYear {
		return []Value{{Name: "service level", Text: share100(l.ServiceLevel), Setting: "shortages_per_year"}}
	}
	return []Value{x.asked("service level", share100(l.ServiceLevel), "Service level", "service_level", func(u plant.Usage) bool {
		return u.ServiceLevel.Sign() > 0 && u.ServiceLevel.Equal(l.ServiceLevel)
	})}
}

// people writes a number, 0 or more, in four digits or more and no exponent.
func people(f float64) string {
	switch {
	case f >= 1000:
		return strconv.FormatFloat(f, 'f', 0, 64)
	case f > 0 && f < 0.001:
		return "less than 0.001"
	default:
		return strconv.FormatFloat(f, 'g', 4, 64)
	}
}

// wait writes a time in minutes, to a tenth.
func wait(d time.Duration) string { return people(math.Round(10*d.Minutes())/10) + " min" }

func root(r units.Ratio) float64 { return math.Sqrt(r.Float64()) }

func share100(r units.Ratio) string {
	return strconv.FormatFloat(r.Mul(units.Int(100)).Float64(), 'g', 4, 64) + " %"
}

// counted writes "1 container", "3 containers".
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
