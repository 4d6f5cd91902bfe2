package screen

import (
	"fmt"

	"plumbline/internal/book"
)

// repeatTold says a task, or what came of it, in history's words.
func repeatTold(_ book.Told, l *HistoryLine, n book.RepeatBody) {
	switch n.Result {
	case "":
		l.Title, l.Detail = "Task: bring it about on purpose", passes(n.Passes)
	case "done":
		l.Title, l.Detail = "Tried on purpose", join(cameInPasses(n), n.Note)
	default:
		l.Title, l.Detail = "Task dropped", n.Note
	}
}

// cameInPasses says how often a symptom came when it was tried.
func cameInPasses(n book.RepeatBody) string {
	return fmt.Sprintf("it came in %d of %s", n.Came, passes(n.Passes))
}

// passes counts runs through a place.
func passes(n int) string {
	if n == 1 {
		return "1 pass"
	}
	return fmt.Sprintf("%d passes", n)
}
