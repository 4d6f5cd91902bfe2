package screen

import "testing"

func TestSentencesBeginInAnyAlphabet(t *testing.T) {
	for word, want := range map[string]string{"oil": "Oil", "öl": "Öl", "Öl": "Öl", "": ""} {
		if got := capital(word); got != want {
			t.Errorf("capital(%q) is %q", word, got)
		}
	}
	if got := lower("Ölwechsel"); got != "ölwechsel" {
		t.Errorf("lower is %q", got)
	}
}
