package bench

// Types of the messages, then the script of the page, then the engine as WebAssembly.
// The first two stand in the tree: `go generate -run 'Protocol|esbuild' ./export/bench`
// makes them alone.
//
//go:generate go test -run TestProtocolText -update .
//go:generate go tool -modfile=../../tools/go.mod esbuild page/app.ts --bundle --minify --format=esm --target=es2022 --legal-comments=none --log-level=warning --outfile=built/page.js
//go:generate go tool -modfile=../../tools/go.mod esbuild page/workermain.ts --bundle --minify --format=iife --target=es2022 --legal-comments=none --log-level=warning --outfile=built/worker.js
//go:generate go run build.go
