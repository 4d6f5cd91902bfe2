package main

import (
	"fmt"
	"runtime/debug"
)

// release is the version of the source; a build from a checkout adds its
// revision.
const release = "0.1.0"

type versionAnswer struct {
	Version  string `json:"version"`
	Revision string `json:"revision,omitempty"`
	Go       string `json:"go"`
}

func version(args []string, std streams) int {
	f := flags("version", std)
	asJSON := f.Bool("json", false, "print for scripts")
	if err := f.Parse(args); err != nil {
		return exitUsage
	}
	v := versionAnswer{Version: release}
	if info, ok := debug.ReadBuildInfo(); ok {
		v.Go = info.GoVersion
		for _, s := range info.Settings {
			if s.Key == "vcs.revision" {
				v.Revision = s.Value
			}
		}
	}
	if *asJSON {
		printJSON(std.out, v)
		return exitDone
	}
	fmt.Fprintf(std.out, "plumbline %s %s %s\n", v.Version, v.Revision, v.Go)
	return exitDone
}
