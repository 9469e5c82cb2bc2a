package wire

// Problem is an error as RFC 9457 has it, with the findings of an input that
// was refused.
type Problem struct {
	Type     string     `json:"type" doc:"about:blank: the status says it all"`
	Title    string     `json:"title"`
	Status   int        `json:"status"`
	Detail   string     `json:"detail" doc:"what went wrong and what can be done"`
	Errors   []BadField `json:"errors,omitempty" doc:"what is wrong with the request, field by field"`
	Sheets   []Sheet    `json:"sheets,omitempty" doc:"ledger of a file that was refused"`
	Findings []Finding  `json:"findings,omitempty" doc:"findings of a file that was refused, or rules that a plan breaks which was to be published"`
	// Since and Accept tell a person who edits what stands in the way.
	Version int         `json:"version,omitempty" doc:"of a draft that somebody changed meanwhile"`
	Since   []DraftStep `json:"since,omitempty" doc:"steps taken of the draft since the version that was named"`
	Accept  []string    `json:"accept,omitempty" doc:"codes of broken rules that must be accepted to publish the plan"`
}

// BadField is one wrong field of a request.
type BadField struct {
	Message  string `json:"message"`
	Location string `json:"location" doc:"path to the field, as in body.settings"`
}

// Error returns the detail.
func (p *Problem) Error() string { return p.Detail }

// GetStatus returns the HTTP status of the problem.
func (p *Problem) GetStatus() int { return p.Status }

// ContentType is that of RFC 9457.
func (p *Problem) ContentType(string) string { return "application/problem+json" }
