module gridswing

go 1.26.0

require (
	codeberg.org/go-pdf/fpdf v0.12.0
	github.com/gofrs/flock v0.13.1
	github.com/golang/geo v0.0.0-20260818125358-b200a1149890
	github.com/pdfcpu/pdfcpu v0.15.0
	github.com/pelletier/go-toml/v2 v2.4.3
	github.com/rogpeppe/go-internal v1.16.0
	github.com/santhosh-tekuri/jsonschema/v6 v6.0.3
	github.com/spf13/cobra v1.10.2
	github.com/spf13/pflag v1.1.0
	golang.org/x/image v0.48.0
	golang.org/x/sync v0.25.0
	golang.org/x/sys v0.50.0
	golang.org/x/term v0.48.0
	gonum.org/v1/gonum v0.17.0
	pgregory.net/rapid v1.3.0
)

require (
	github.com/clipperhouse/uax29/v2 v2.7.0 // indirect
	github.com/hhrutter/tiff v1.0.6 // indirect
	github.com/mattn/go-runewidth v0.0.27 // indirect
	go.yaml.in/yaml/v3 v3.0.5 // indirect
	golang.org/x/crypto v0.54.0 // indirect
)

require (
	github.com/google/go-cmp v0.7.0
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	golang.org/x/text v0.44.0
	golang.org/x/tools v0.52.0 // indirect
)
