// Command build makes the app that the browser runs: the core as WebAssembly,
// the bundles, the page, the icons, the service worker and their compressed
// copies, into static/dist and sw/dist, which the server embeds. It does not
// fetch anything: npm's packages are in place before it runs.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"time"
)

// Brotli's quality: quick for running, small for a release. The core takes
// 0.2 s and 843 KB at 5, 7.7 s and 729 KB at 11.
const (
	quickQuality   = 5
	releaseQuality = 11
)

func main() {
	release := flag.Bool("release", false, "compress as small as can be; takes ten times as long")
	flag.Parse()
	quality := quickQuality
	if *release {
		quality = releaseQuality
	}
	if err := run(".", quality); err != nil {
		fmt.Fprintf(os.Stderr, "build: %v\n", err)
		os.Exit(1)
	}
}

// run builds the app of the module in root.
func run(root string, quality int) error {
	began := time.Now()
	app, err := build(root)
	if err != nil {
		return err
	}
	visit, core := 0, 0
	for folder, files := range map[string]files{"static": app.static, "sw": app.worker} {
		sent, err := files.write(filepath.Join(root, folder, "dist"), quality)
		if err != nil {
			return err
		}
		for name, size := range sent {
			visit += size
			if name == app.core {
				core = size
			}
		}
		visit -= sent[noticesName] // fetched by whoever asks
	}
	fmt.Printf("built %s: %d files in %.1f s\n", app.name, len(app.static)+len(app.worker), time.Since(began).Seconds())
	fmt.Printf("first visit: %.3f MB compressed (brotli %d), of which the core %.3f MB (%.3f MB raw)\n",
		megabytes(visit), quality, megabytes(core), megabytes(len(app.static[app.core])))
	return nil
}

func megabytes(n int) float64 { return float64(n) / 1e6 }
