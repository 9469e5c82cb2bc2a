package api

import (
	"context"
	"encoding/json"
	"net/http"
	"reflect"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"lanewright/api/wire"
)

// config describes the API and sets huma up: JSON only, no links to foreign
// pages, problems in our own shape.
func (s *server) config() huma.Config {
	c := huma.DefaultConfig("Lanewright", s.version)
	c.Info.Description = "Sizes replenishment loops, lays them in gravity flow racks, plans the refill routes and plays the plan. " +
		"Lengths are in mm, masses in kg, times in minutes, rates per net hour, coordinates in m, service levels in percent. " +
		"Errors are problem documents (RFC 9457). Lists are paged: ask again with the cursor in next."
	c.OpenAPIPath, c.DocsPath, c.SchemasPath = "", "", ""
	c.CreateHooks = nil
	c.RejectUnknownQueryParameters = true
	c.Transformers = []huma.Transformer{ownProblem}
	return c
}

// ownProblem gives the errors that huma raises itself our shape, without the
// echo of what was sent, and every problem its headers.
func ownProblem(ctx huma.Context, _ string, v any) (any, error) {
	if m, ok := v.(*huma.ErrorModel); ok {
		p := problem(m.Status, sentence(m.Status, m.Detail))
		if m.Detail == "request body is required" {
			p.Detail = noBody(ctx.Operation())
		}
		for _, e := range m.Errors {
			if e.Message == "unknown query parameter" {
				e.Message += queries(ctx.Operation())
			}
			if e.Message == "invalid boolean" {
				e.Message += ": expected true or false"
			}
			p.Errors = append(p.Errors, wire.BadField{Message: e.Message, Location: e.Location})
		}
		v = p
	}
	if p, ok := v.(*wire.Problem); ok {
		passing(p.Status, ctx.SetHeader)
	}
	return v, nil
}

// noBody says what an operation wants that was sent nothing.
func noBody(op *huma.Operation) string {
	if op.MaxBodyBytes == formLimit {
		return "There is no file in the request. Send its bytes as the body, with its name in the query (?name=plant.xlsx), or send a form with the file in a field."
	}
	return "There is nothing in the request. Send a JSON document with Content-Type: application/json; /docs shows what this address reads."
}

// queries lists the query parameters that an operation knows.
func queries(op *huma.Operation) string {
	var names []string
	for _, p := range op.Parameters {
		if p.In == "query" {
			names = append(names, p.Name)
		}
	}
	if len(names) == 0 {
		return "; this address knows none"
	}
	return "; this address knows " + strings.Join(names, ", ")
}

// table registers the operations of a server.
type table struct {
	server *server
	api    huma.API
}

type option func(*huma.Operation)

func get[I, O any](t table, path, id, summary string, h func(context.Context, *I) (*O, error), options ...option) *huma.Operation {
	return register(t, http.MethodGet, path, id, summary, h, options)
}

func post[I, O any](t table, path, id, summary string, h func(context.Context, *I) (*O, error), options ...option) *huma.Operation {
	return register(t, http.MethodPost, path, id, summary, h, options)
}

func remove[I, O any](t table, path, id, summary string, h func(context.Context, *I) (*O, error), options ...option) *huma.Operation {
	return register(t, http.MethodDelete, path, id, summary, h, options)
}

// register adds an operation; an error of its handler becomes a problem
// document by the one table in problems.go.
func register[I, O any](t table, method, path, id, summary string, h func(context.Context, *I) (*O, error), options []option) *huma.Operation {
	op := huma.Operation{OperationID: id, Method: method, Path: path, Summary: summary}
	op.Responses = map[string]*huma.Response{"default": t.problemResponse()}
	for _, change := range options {
		change(&op)
	}
	huma.Register(t.api, op, func(ctx context.Context, in *I) (*O, error) {
		out, err := h(ctx, in)
		if err != nil {
			return nil, t.server.problem(ctx, err)
		}
		return out, nil
	})
	item := t.api.OpenAPI().Paths[path]
	return map[string]*huma.Operation{http.MethodGet: item.Get, http.MethodPost: item.Post, http.MethodDelete: item.Delete}[method]
}

func (t table) problemResponse() *huma.Response {
	schema := t.api.OpenAPI().Components.Schemas.Schema(reflect.TypeFor[wire.Problem](), true, "Problem")
	return &huma.Response{
		Description: "A problem document (RFC 9457)",
		Content:     map[string]*huma.MediaType{"application/problem+json": {Schema: schema}},
	}
}

// accepted is the answer to what is done later.
func accepted(op *huma.Operation) { op.DefaultStatus = http.StatusAccepted }

// created is the answer to what is new and has an address.
func created(op *huma.Operation) { op.DefaultStatus = http.StatusCreated }

// upload lets an operation take a file.
func upload(op *huma.Operation) {
	op.MaxBodyBytes = formLimit
	op.BodyReadTimeout = 2 * time.Minute
}

// planDocument, workbook, picture and eventStream describe what is streamed.
func planDocument(op *huma.Operation) {
	op.Description = "Every list of the plan in one answer."
	content(op, "application/json", &huma.Schema{Ref: "#/components/schemas/Plan"})
}

func workbook(op *huma.Operation) {
	content(op, "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", &huma.Schema{Type: "string", Format: "binary"})
}

func picture(op *huma.Operation) {
	content(op, svg, &huma.Schema{Type: "string"})
}

func eventStream(op *huma.Operation) {
	op.Description = "Server-Sent Events: each event \"run\" carries the run as JSON and its sequence as id; the stream ends when the run has ended. " +
		"A comment comes every 15 s. Last-Event-ID skips what was seen."
	content(op, "text/event-stream", &huma.Schema{Type: "string"})
}

func content(op *huma.Operation, mediaType string, schema *huma.Schema) {
	op.Responses["200"] = &huma.Response{
		Description: http.StatusText(http.StatusOK),
		Content:     map[string]*huma.MediaType{mediaType: {Schema: schema}},
	}
}

// openAPI serves the description of the API.
func (s *server) openAPI(api huma.API) http.HandlerFunc {
	describeAnswers(api.OpenAPI().Components.Schemas)
	body, err := json.MarshalIndent(api.OpenAPI(), "", "  ")
	if err != nil {
		panic(err)
	}
	tag := hashed(body)
	return func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/json")
		w.Header().Set("ETag", tag)
		_, _ = w.Write(body)
	}
}

// describeAnswers says of what is sent that its lists are never null, that an
// object behind a pointer may be, and that fields may be added; what huma would
// send itself is left out.
func describeAnswers(schemas huma.Registry) {
	schemas.Schema(reflect.TypeFor[wire.Plan](), true, "Plan")
	delete(schemas.Map(), "ErrorModel")
	delete(schemas.Map(), "ErrorDetail")
	for name, schema := range schemas.Map() {
		if strings.HasSuffix(name, "Request") {
			continue
		}
		schema.AdditionalProperties = nil
		for _, field := range schema.Properties {
			if field.Type == huma.TypeArray {
				field.Nullable = false
			}
		}
		describeNulls(schema, schemas.TypeFromRef("#/components/schemas/"+name))
	}
}

// describeNulls adds null to the fields of a struct that point to another one
// and are not left out where there is none.
func describeNulls(schema *huma.Schema, of reflect.Type) {
	for i := range of.NumField() {
		f := of.Field(i)
		name, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		field := schema.Properties[name]
		if f.Type.Kind() != reflect.Pointer || options != "" || field == nil || field.Ref == "" {
			continue
		}
		schema.Properties[name] = &huma.Schema{
			Description: field.Description,
			AnyOf:       []*huma.Schema{{Ref: field.Ref}, {Type: "null"}},
		}
	}
}
