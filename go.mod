module gridswing

go 1.26

require (
	github.com/golang/geo v0.0.0-20260818125358-b200a1149890 // indirect
	github.com/google/go-cmp v0.7.0 // indirect
	pgregory.net/rapid v1.3.0 // indirect
)
