package api

import (
	"context"
	"encoding/json"
	"errors"
	"net/http"
	"strings"

	"lanewright/api/wire"
	"lanewright/planner"
	"lanewright/planner/archive"
	"lanewright/planner/simulation"
)

// statuses is the one table from errors to HTTP status. An error with say
// keeps its own text; what the world did is told by the sentence here only.
var statuses = []struct {
	err    error
	status int
	say    bool
}{
	{archive.ErrNotFound, http.StatusNotFound, true},
	{archive.ErrConflict, http.StatusConflict, false},
	{archive.ErrStale, http.StatusPreconditionFailed, false},
	{planner.ErrUnknownSetting, http.StatusUnprocessableEntity, true},
	{planner.ErrBadSetting, http.StatusUnprocessableEntity, true},
	{simulation.ErrNotPlayed, http.StatusUnprocessableEntity, true},
	{simulation.ErrTooMuch, http.StatusUnprocessableEntity, true},
	{archive.ErrUnavailable, http.StatusServiceUnavailable, false},
	{archive.ErrUnsuitable, http.StatusServiceUnavailable, false},
	{context.DeadlineExceeded, http.StatusServiceUnavailable, false},
	{context.Canceled, http.StatusServiceUnavailable, false},
}

// sentences say what can be done about a status where nobody said more.
var sentences = map[int]string{
	http.StatusBadRequest:            "The request can not be read; errors says where it breaks off.",
	http.StatusNotFound:              "There is nothing at this address.",
	http.StatusMethodNotAllowed:      "This address does not take that method; the Allow header lists those it takes.",
	http.StatusConflict:              "It is there already, or was changed by somebody else meanwhile.",
	http.StatusPreconditionFailed:    "Somebody changed it meanwhile; look at it as it is now and ask again.",
	http.StatusRequestEntityTooLarge: "What was sent is too large: a file may have 32 MiB, any other body 1 MiB.",
	http.StatusUnsupportedMediaType:  "This address does not read that kind of content.",
	http.StatusUnprocessableEntity:   "The request was understood but something in it is wrong; errors lists what.",
	http.StatusTooManyRequests:       "Too much was sent at once; send it again in a little while.",
	http.StatusServiceUnavailable:    "The database can not be used at the moment; try again in a little while.",
	http.StatusInternalServerError:   "A mistake in the program itself. The server's log says more.",
}

// sentence returns detail, or what is said where there is none worth showing.
func sentence(status int, detail string) string {
	standard, ok := sentences[status]
	if ok && (status >= http.StatusInternalServerError || status == http.StatusRequestEntityTooLarge || detail == "" || detail == "validation failed") {
		return standard
	}
	return asSentence(detail)
}

func problem(status int, detail string) *wire.Problem {
	return &wire.Problem{Type: "about:blank", Title: http.StatusText(status), Status: status, Detail: detail}
}

// problem turns an error into a problem document and logs what a caller can
// not be told.
func (s *server) problem(ctx context.Context, err error) *wire.Problem {
	if p, ok := errors.AsType[*wire.Problem](err); ok {
		return p
	}
	for _, row := range statuses {
		if !errors.Is(err, row.err) {
			continue
		}
		if !row.say {
			s.log.WarnContext(ctx, "request failed", "error", err)
			return problem(row.status, sentences[row.status])
		}
		return problem(row.status, asSentence(err.Error()))
	}
	s.log.ErrorContext(ctx, "request failed", "error", err)
	return problem(http.StatusInternalServerError, sentences[http.StatusInternalServerError])
}

// asSentence begins an error's text with a capital and ends it with a stop.
func asSentence(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + strings.TrimSuffix(text[1:], ".") + "."
}

// writeProblem answers with a problem document outside of huma.
func writeProblem(w http.ResponseWriter, p *wire.Problem) {
	h := w.Header()
	h.Set("Content-Type", p.ContentType(""))
	passing(p.Status, h.Set)
	w.WriteHeader(p.Status)
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	_ = e.Encode(p)
}

// passing sets the headers that say that a problem will not last.
func passing(status int, set func(name, value string)) {
	set("Cache-Control", "no-store")
	if status == http.StatusServiceUnavailable || status == http.StatusTooManyRequests {
		set("Retry-After", "5")
	}
}

// refuse answers with a status and its sentence.
func refuse(w http.ResponseWriter, status int) {
	writeProblem(w, problem(status, sentences[status]))
}
