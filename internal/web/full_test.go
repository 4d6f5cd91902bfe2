package web_test

import (
	"context"
	"errors"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"plumbline/internal/entry"
	"plumbline/internal/web"
)

// fullDesk is a desk whose disk is full.
type fullDesk struct{ web.Desk }

type full struct{ error }

func (full) StorageFull() bool { return true }

func (fullDesk) Push(context.Context, string, entry.BookID, [][]byte) (entry.Vector, error) {
	return nil, full{errors.New("database or disk is full (13)")}
}

func TestAFullDiskIsNoAcknowledgement(t *testing.T) {
	h := web.New(fullDesk{}, app, slog.New(slog.DiscardHandler), web.DefaultLimits)
	answer := httptest.NewRecorder()
	h.ServeHTTP(answer, httptest.NewRequest("POST", "/api/books/x/entries", strings.NewReader("{}\n")))
	if answer.Code != http.StatusInsufficientStorage || !strings.Contains(answer.Body.String(), "disk is full") || strings.Contains(answer.Body.String(), "13") {
		t.Errorf("answered %d: %s", answer.Code, answer.Body)
	}
}
