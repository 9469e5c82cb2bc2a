package api

import (
	"context"

	"lanewright/api/codes"
	"lanewright/api/wire"
	"lanewright/planner/finding"
)

// FindingFilter chooses findings; what is empty chooses all.
type FindingFilter struct {
	Severity string `query:"severity" enum:"error,warning,note" doc:"only this severity"`
	Code     string `query:"code" maxLength:"100" doc:"only this code"`
	Cell     string `query:"cell" maxLength:"200" doc:"only about this cell or its racks"`
	Rack     string `query:"rack" maxLength:"200" doc:"only about this rack"`
}

// findingPage is a page of findings with what the whole list holds, filtered
// by everything but severity and code.
type findingPage struct {
	wire.Page[wire.Finding]
	Errors   int           `json:"errors"`
	Warnings int           `json:"warnings"`
	Notes    int           `json:"notes"`
	Codes    []findingCode `json:"codes" doc:"codes in the list, in its order"`
}

type findingCode struct {
	Code     string `json:"code"`
	Title    string `json:"title" doc:"what the code means"`
	Severity string `json:"severity"`
	Count    int    `json:"count"`
}

type findingsInput struct {
	PlanInput
	PageInput
	FindingFilter
}

func (s *server) listFindings(ctx context.Context, in *findingsInput) (*output[findingPage], error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	page, err := in.page(v.plan.Findings, v.home, in.PageInput)
	if err != nil {
		return nil, err
	}
	return tagged(v.tag, page), nil
}

// page takes a page out of the findings that f chooses; home tells the cell of
// each rack.
func (f FindingFilter) page(list finding.List, home map[string]string, in PageInput) (findingPage, error) {
	about := filter(list, func(x finding.Finding) bool {
		return is(f.Cell, wire.FindingCell(x, home)) && is(f.Rack, x.Subject.Rack)
	})
	chosen := filter(about, func(x finding.Finding) bool {
		return is(f.Severity, string(x.Severity)) && is(f.Code, x.Code)
	})
	part, err := cut(chosen, in)
	if err != nil {
		return findingPage{}, err
	}
	all := finding.List(about)
	return findingPage{
		Page:   wire.Page[wire.Finding]{Items: wire.NewFindings(part.Items), Total: part.Total, Next: part.Next},
		Errors: all.Count(finding.Error), Warnings: all.Count(finding.Warning), Notes: all.Count(finding.Note),
		Codes: countCodes(all),
	}, nil
}

// countCodes counts the codes of a list in the order they first appear.
func countCodes(list finding.List) []findingCode {
	counts := []findingCode{}
	at := map[string]int{}
	for _, f := range list {
		i, ok := at[f.Code]
		if !ok {
			i = len(counts)
			at[f.Code] = i
			counts = append(counts, findingCode{Code: f.Code, Title: codes.Title(f.Code), Severity: string(f.Severity)})
		}
		counts[i].Count++
	}
	return counts
}
