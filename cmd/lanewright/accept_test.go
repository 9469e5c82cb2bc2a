package main

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sync/errgroup"

	"lanewright/api"
	"lanewright/storage/storagetest"
)

const acceptedTable = "Part,Cell,Station,Pieces per hour,Container,Length (mm),Width (mm),Height (mm),Standard pack\nA1,LENS,10,%d,BOX,400,300,220,20\n"

// TestTwoAcceptAtOnce: of two people who accept files that both were compared
// with the same revision, one stores and the other is told, whether they name
// the revision or bring some sheets onto the latest one.
func TestTwoAcceptAtOnce(t *testing.T) {
	t.Parallel()
	h := api.New(api.Options{Store: storagetest.New(t)})
	send := func(query, body string) *httptest.ResponseRecorder {
		w := httptest.NewRecorder()
		h.ServeHTTP(w, httptest.NewRequest(http.MethodPost, "/api/v1/plants/shared/imports?name=flat.csv&"+query, strings.NewReader(body)))
		return w
	}
	require.Equal(t, 201, send("against=0", fmt.Sprintf(acceptedTable, 1)).Code)
	for round, query := range []string{"against=1", "against=2&onto=-1", "onto=-1"} {
		var answers [2]*httptest.ResponseRecorder
		var group errgroup.Group
		for i := range answers {
			group.Go(func() error {
				answers[i] = send(query, fmt.Sprintf(acceptedTable, 10*round+i+2))
				return nil
			})
		}
		require.NoError(t, group.Wait())
		won, lost := answers[0], answers[1]
		if won.Code != 201 {
			won, lost = lost, won
		}
		require.Equal(t, 201, won.Code, "%s: %s", query, won.Body)
		if query == "onto=-1" && lost.Code == 201 {
			continue // it read the revision that the other one had stored already
		}
		assert.Equal(t, 409, lost.Code, "%s: %s", query, lost.Body)
		assert.Contains(t, lost.Body.String(), fmt.Sprintf("Revision %d was stored meanwhile", round+2))
	}
}
