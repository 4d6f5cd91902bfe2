// Package sw holds the service worker, once cmd/build has built it.
package sw

import (
	"embed"
	"io/fs"
)

//go:embed all:dist
var built embed.FS

// Dist is the built files, without the folder's own name in front. It holds
// only a placeholder when nothing was built.
var Dist, _ = fs.Sub(built, "dist") // fails only on a malformed name
