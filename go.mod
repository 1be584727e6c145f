module gridswing

go 1.26.0

require (
	github.com/golang/geo v0.0.0-20260818125358-b200a1149890 // indirect
	github.com/google/go-cmp v0.7.0 // indirect
	github.com/pelletier/go-toml/v2 v2.4.3 // indirect
	golang.org/x/image v0.48.0 // indirect
	golang.org/x/sync v0.25.0 // indirect
	golang.org/x/sys v0.50.0 // indirect
	golang.org/x/text v0.44.0 // indirect
	pgregory.net/rapid v1.3.0 // indirect
)
