package screen

import (
	"slices"

	"plumbline/internal/book"
	"plumbline/internal/diagnosis"
)

// TyreArgs asks for the readings of a tyre: End is "front" or "rear", Place
// where across the tread, or "" for all.
type TyreArgs struct {
	End   string `json:"end"`
	Place string `json:"place"`
}

// TyreReading is the page on which a rider compares a tyre with drawings.
type TyreReading struct {
	Places []Choice    `json:"places"`
	Groups []TyreGroup `json:"groups"`
	Before string      `json:"before"` // how to look
}

// TyreGroup is one kind of wear.
type TyreGroup struct {
	Title string     `json:"title"`
	Looks []TyreLook `json:"looks"`
}

// TyreLook is one way in which a tyre looks, to be drawn, or feels.
type TyreLook struct {
	ID    string          `json:"id"`
	Words string          `json:"words"`
	Wear  *diagnosis.Wear `json:"wear,omitempty"` // nil for what a hand feels
}

var _ = view("tyrereading", tyreReading)

// tyreGroups sort the textures as an eye does that comes near: what is torn,
// which shape it has, how its surface is.
var tyreGroups = []struct {
	title    string
	textures []string
}{
	{"Torn or melted", []string{"melted", "ripped", "lipped", "patchy"}},
	{"Worn in a shape", []string{"flat", "scalloped", "unused"}},
	{"The surface", []string{"smooth", "blue"}},
	{"By hand", []string{""}},
}

// tyrePlaces are the places across the tread, in a rider's words, and those of
// the knowledge that they take in.
var tyrePlaces = []struct {
	Choice
	takes []string
}{
	{Choice{"", "Anywhere"}, nil},
	{Choice{"centre", "Middle"}, []string{"centre", "all"}},
	{Choice{"shoulders", "Both shoulders"}, []string{"shoulders", "band", "all"}},
	{Choice{"one-shoulder", "One side"}, []string{"one-shoulder"}},
	{Choice{"cuts", "At the grooves"}, []string{"cuts"}},
}

func tyreReading(_ Ask, args TyreArgs) (any, []book.Refusal) {
	out := TyreReading{Places: []Choice{}, Groups: []TyreGroup{}, Before: "Look when the tyre is cold, in the shade, at the band that touched the track. Engine off: keep your hand out from between tyre and swingarm."}
	var takes []string
	for _, p := range tyrePlaces {
		out.Places = append(out.Places, p.Choice)
		if p.ID == args.Place {
			takes = p.takes
		}
	}
	for _, g := range tyreGroups {
		group := TyreGroup{Title: g.title, Looks: []TyreLook{}}
		for _, f := range diagnosis.Load().Findings() {
			var wear diagnosis.Wear
			if f.Tyre != nil {
				wear = *f.Tyre
			}
			here := takes == nil || slices.Contains(takes, wear.Place)
			if f.Kind == "tyre" && slices.Contains(g.textures, wear.Texture) && here && onEnd(f, args.End) {
				group.Looks = append(group.Looks, TyreLook{f.ID, f.Words, f.Tyre})
			}
		}
		if len(group.Looks) > 0 {
			out.Groups = append(out.Groups, group)
		}
	}
	return out, nil
}

func onEnd(f diagnosis.Finding, end string) bool {
	return end == "" || f.End == "" || f.End == "whole" || f.End == end
}
