package wire

import "lanewright/planner"

// Settings are what a plan of a plant can be asked with.
type Settings struct {
	Plant          string    `json:"plant"`
	RevisionNumber int       `json:"revision_number"`
	Settings       []Setting `json:"settings" doc:"in the order in which people read them"`
}

// Setting is one of them.
type Setting struct {
	Key     string   `json:"key"`
	Value   string   `json:"value" doc:"what counts where a plan is asked for without it"`
	Usual   string   `json:"usual" doc:"what counts in a plant whose sheets say nothing of it"`
	Unit    string   `json:"unit" doc:"symbol of what its numbers count; empty where they have none, or money"`
	Options []string `json:"options" doc:"the words that it may be; empty where it is a number, a text or a list"`
}

// NewSettings lists all settings with a plant's own values and the usual ones.
func NewSettings(plant string, revision int, own, usual planner.Settings) Settings {
	out := Settings{Plant: plant, RevisionNumber: revision}
	values, others := own.Pairs(), usual.Pairs()
	for i, s := range planner.ListSettings() {
		options := s.Options
		if options == nil {
			options = []string{}
		}
		out.Settings = append(out.Settings, Setting{Key: s.Key, Value: values[i].Value, Usual: others[i].Value, Unit: s.Unit, Options: options})
	}
	return out
}
