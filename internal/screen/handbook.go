package screen

import (
	"slices"
	"sync"

	"plumbline/internal/diagnosis"
)

// findingsByID are the knowledge's findings by their ids.
var findingsByID = sync.OnceValue(func() map[string]diagnosis.Finding {
	out := map[string]diagnosis.Finding{}
	for _, f := range diagnosis.Load().Findings() {
		out[f.ID] = f
	}
	return out
})

func sourceTitle(id string) string {
	all := diagnosis.Load().Sources()
	if i := slices.IndexFunc(all, func(s diagnosis.Source) bool { return s.ID == id }); i >= 0 {
		return all[i].Title
	}
	return ""
}
