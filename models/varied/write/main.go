// Command write writes a folder of varied setups, to measure with:
//
//	go run ./models/varied/write -n 100 /tmp/shop
//	go build -o /tmp/gridswing ./cmd/gridswing
//	/usr/bin/time -v /tmp/gridswing binder /tmp/shop/setups --out /tmp/shop-binder --quiet
package main

import (
	"flag"
	"fmt"
	"os"

	"gridswing/models/varied"
)

func main() {
	n := flag.Int("n", 100, "how many setups")
	seed := flag.Int64("seed", 1, "which ones")
	flag.Parse()
	if flag.NArg() != 1 {
		fmt.Fprintln(os.Stderr, "write: expected one folder to write to")
		os.Exit(2)
	}
	if err := varied.Write(flag.Arg(0), *n, *seed); err != nil {
		fmt.Fprintln(os.Stderr, "write:", err)
		os.Exit(1)
	}
}
