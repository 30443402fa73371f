module ferrule

go 1.26.0

require (
	github.com/andybalholm/brotli v1.2.8 // indirect
	github.com/google/uuid v1.6.0 // indirect
	github.com/maxence-charriere/go-app/v10 v10.1.11 // indirect
	github.com/vmihailenco/msgpack/v5 v5.4.1 // indirect
	github.com/vmihailenco/tagparser/v2 v2.0.0 // indirect
	golang.org/x/text v0.44.0 // indirect
	gonum.org/v1/gonum v0.17.0 // indirect
	rsc.io/qr v0.2.0 // indirect
)
