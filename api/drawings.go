package api

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"path"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"lanewright/api/drawing"
	"lanewright/planner/plant"
)

const pdf = "application/pdf"

type rackDrawingInput struct {
	RackInput
	View        string `query:"view" enum:"front,side,plan" default:"front" doc:"from the pick side, cut along the lanes, or each level from above"`
	IfNoneMatch string `header:"If-None-Match" doc:"entity tag the caller has already"`
}

// drawRack draws one view of a rack to scale.
func (s *server) drawRack(ctx context.Context, in *rackDrawingInput) (*huma.StreamResponse, error) {
	return s.drawn(ctx, in.RackInput, in.IfNoneMatch, svg, "", func(w io.Writer, r drawing.Rack) error {
		return drawing.SVG(w, r, drawing.View(in.View))
	})
}

type buildSheetInput struct {
	RackInput
	IfNoneMatch string `header:"If-None-Match" doc:"entity tag the caller has already"`
}

// buildSheet sends what a rack is built by.
func (s *server) buildSheet(ctx context.Context, in *buildSheetInput) (*huma.StreamResponse, error) {
	name := fmt.Sprintf(`inline; filename="build-sheet-%s-plan-%d.pdf"`, plainLetters(in.Rack), in.Plan)
	return s.drawn(ctx, in.RackInput, in.IfNoneMatch, pdf, name, func(w io.Writer, r drawing.Rack) error {
		return drawing.BuildSheets(w, r)
	})
}

// drawn sends what draw makes of a rack, unless the caller has it already.
func (s *server) drawn(ctx context.Context, in RackInput, known, mediaType, name string, draw func(io.Writer, drawing.Rack) error) (*huma.StreamResponse, error) {
	v, err := s.planOf(ctx, in.Plan)
	if err != nil {
		return nil, err
	}
	f, err := s.factsOf(ctx, v.header.Plant, v.header.Revision)
	if err != nil {
		return nil, err
	}
	r, err := drawing.Find(ctx, f.plant, v.plan, plant.RackCode(in.Rack), fmt.Sprintf("%d, facts %.12s", v.header.ID, v.plan.Revision))
	switch {
	case errors.Is(err, drawing.ErrNoRack):
		return nil, missing("rack", in.Rack)
	case err != nil && ctx.Err() != nil:
		return nil, context.Cause(ctx)
	case err != nil:
		return nil, problem(http.StatusUnprocessableEntity, fmt.Sprintf("Rack %s can not be drawn: %s.", in.Rack, err))
	}
	var sheet bytes.Buffer
	if err := draw(&sheet, r); err != nil {
		return nil, fmt.Errorf("draw rack %s of plan %d: %w", in.Rack, in.Plan, err)
	}
	return s.send(v.tag, known, mediaType, name, func(w io.Writer) error {
		_, err := sheet.WriteTo(w)
		return err
	}), nil
}

// document describes what is streamed as PDF.
func document(op *huma.Operation) {
	content(op, pdf, &huma.Schema{Type: "string", Format: "binary"})
}

// dotted lets the code of a rack have dots in the address of its drawings: the
// router takes the first dot for the end of the code.
func dotted(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		folder, file := path.Split(r.URL.EscapedPath())
		ending := path.Ext(file)
		if code := strings.TrimSuffix(file, ending); strings.HasSuffix(folder, "/racks/") && (ending == ".svg" || ending == ".pdf") && strings.Contains(code, ".") {
			r = r.Clone(r.Context())
			r.URL.RawPath = folder + strings.ReplaceAll(code, ".", "%2E") + ending
		}
		next.ServeHTTP(w, r)
	})
}
