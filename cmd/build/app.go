package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html/template"
	"path"
	"slices"
	"strings"
)

// built is the whole app. Its name is a hash over every file's name and content.
type built struct {
	name   string
	core   string // the core's name among the files
	static files
	worker files
}

// named is a file's content and the name it is served under.
type named struct{ name, ext string }

// build makes everything in order: a file that names others comes after them.
func build(root string) (built, error) {
	out := files{}
	core, err := compileCore(root)
	if err != nil {
		return built{}, err
	}
	sprite, err := sprite(root)
	if err != nil {
		return built{}, err
	}
	coreURL := out.addHashed(named{"core", ".wasm"}, core)
	iconsURL := out.addHashed(named{"icons", ".svg"}, sprite)
	worker, err := bundleWorker(root, coreURL)
	if err != nil {
		return built{}, err
	}
	workerURL := out.addHashed(named{"worker", ".js"}, worker)
	bundle, err := bundleApp(root, map[string]string{"WORKER_URL": workerURL, "ICONS_URL": iconsURL})
	if err != nil {
		return built{}, err
	}
	out.addAll(bundle)
	return finish(root, out)
}

// finish adds what names the bundles: manifest, page, service worker.
func finish(root string, out files) (built, error) {
	icons := out.addIcons()
	out["manifest.webmanifest"] = webManifest(icons)
	p := page{Script: "/" + out.find("app-", ".js"), Style: "/" + out.find("app-", ".css"), Font: "/" + out.find("atkinson", ".woff2"), Icons: icons, Ground: ground}
	p.Build = nameOf(out, pageText)
	var html bytes.Buffer
	if err := pageTemplate.Execute(&html, p); err != nil {
		return built{}, fmt.Errorf("write page: %w", err)
	}
	out["index.html"] = html.Bytes()
	precache, err := json.Marshal(manifest{p.Build, out.precache()})
	if err != nil {
		return built{}, fmt.Errorf("write precache manifest: %w", err)
	}
	sw, err := bundleServiceWorker(root, precache)
	if err != nil {
		return built{}, err
	}
	notices, err := licences(root)
	if err != nil {
		return built{}, err
	}
	out[noticesName] = notices // for whoever asks; the app does not need it
	return built{p.Build, out.find("core-", ".wasm"), out, files{"sw.js": sw}}, nil
}

// noticesName is the file with the licences of what is built in.
const noticesName = "licences.txt"

// manifest is what the service worker keeps: files by address and hash.
type manifest struct {
	Build string      `json:"build"`
	Files []precached `json:"files"`
}

type precached struct {
	URL       string `json:"url"`
	Integrity string `json:"integrity"`
}

func (f files) precache() []precached {
	var out []precached
	for _, name := range f.names() {
		sum := sha256.Sum256(f[name])
		out = append(out, precached{"/" + name, "sha256-" + base64.StdEncoding.EncodeToString(sum[:])})
	}
	return out
}

// nameOf is a short hash over files and over text that is not a file yet.
func nameOf(f files, more string) string {
	h := sha256.New()
	for _, name := range f.names() {
		fmt.Fprintf(h, "%s %d\n", name, len(f[name]))
		h.Write(f[name])
	}
	h.Write([]byte(more))
	return hex.EncodeToString(h.Sum(nil))[:10]
}

// addHashed adds a file under a name with its hash and returns its address.
func (f files) addHashed(n named, content []byte) string {
	sum := sha256.Sum256(content)
	name := n.name + "-" + hex.EncodeToString(sum[:])[:10] + n.ext
	f[name] = content
	return "/" + name
}

// find returns the one file with this start and ending, or "".
func (f files) find(start, ending string) string {
	i := slices.IndexFunc(f.names(), func(n string) bool { return strings.HasPrefix(n, start) && path.Ext(n) == ending })
	if i < 0 {
		return ""
	}
	return f.names()[i]
}

// page is what the one page of the app is written from.
type page struct {
	Build, Script, Style, Font, Ground string
	Icons                              icons
}

const pageText = `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover">
<meta name="theme-color" content="{{.Ground}}">
<meta name="build" content="{{.Build}}">
<meta name="description" content="The book of your motorcycle: what is set, who changed it, why, and whether it helped.">
<title>Plumbline</title>
<link rel="manifest" href="/manifest.webmanifest">
<link rel="icon" href="{{.Icons.SVG}}" type="image/svg+xml">
<link rel="apple-touch-icon" href="{{.Icons.Touch}}">
<link rel="preload" href="{{.Font}}" as="font" type="font/woff2" crossorigin>
<link rel="stylesheet" href="{{.Style}}">
<script type="module" src="{{.Script}}"></script>
</head>
<body>
<div id="app"></div>
<noscript><p>Plumbline runs in the browser itself and needs JavaScript.</p></noscript>
</body>
</html>
`

var pageTemplate = template.Must(template.New("page").Parse(pageText))

// webManifest lets the app be installed.
func webManifest(i icons) []byte {
	type icon struct {
		Src     string `json:"src"`
		Sizes   string `json:"sizes"`
		Type    string `json:"type"`
		Purpose string `json:"purpose"`
	}
	out, _ := json.MarshalIndent(map[string]any{ // strings always marshal
		"id": "/", "name": "Plumbline", "short_name": "Plumbline", "lang": "en", "start_url": "/", "scope": "/",
		"description": "The book of your motorcycle.", "display": "standalone", "background_color": ground, "theme_color": ground,
		"icons": []icon{
			{i.Small, "192x192", "image/png", "any"}, {i.Large, "512x512", "image/png", "any"},
			{i.Large, "512x512", "image/png", "maskable"}, {i.SVG, "any", "image/svg+xml", "any"},
		},
	}, "", "  ")
	return append(out, '\n')
}
