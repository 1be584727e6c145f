package pdf_test

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"unicode/utf16"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
)

func init() { api.DisableConfigDir() }

// Links are written in place, which pdfcpu takes only where it is not strict.
const (
	strict    = model.ValidationStrict
	withLinks = model.ValidationRelaxed
)

// fatal is a test of testing or rapid.
type fatal interface {
	Helper()
	Fatal(args ...any)
}

// read validates a file and returns it as pdfcpu sees it.
func read(t fatal, data []byte, mode int) *model.Context {
	t.Helper()
	conf := model.NewDefaultConfiguration()
	conf.ValidationMode = mode
	ctx, err := api.ReadValidateAndOptimize(bytes.NewReader(data), conf)
	if err != nil {
		t.Fatal(err)
	}
	return ctx
}

// content returns what a page's content stream says, from 1.
func content(t fatal, ctx *model.Context, number int) string {
	t.Helper()
	r, err := pdfcpu.ExtractPageContent(ctx, number)
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// shown returns the strings that a content stream shows (ISO 32000-1, 9.4.3, operator Tj).
// Their codes are the characters in UTF-16, as the fonts' ToUnicode maps say.
func shown(stream string) ([]string, error) {
	var all []string
	for i := 0; i < len(stream); i++ {
		if stream[i] != '(' {
			continue
		}
		var b []byte
		for i++; i < len(stream) && stream[i] != ')'; i++ {
			c := stream[i]
			if c == '\\' {
				if i++; stream[i] == 'r' {
					b = append(b, '\r')
					continue
				}
				c = stream[i]
			}
			b = append(b, c)
		}
		if len(b)%2 != 0 || !strings.HasPrefix(stream[i:], ") Tj") {
			return nil, fmt.Errorf("%q at %d is no string of two-byte codes that is shown", b, i)
		}
		var codes []uint16
		for k := 0; k < len(b); k += 2 {
			codes = append(codes, uint16(b[k])<<8|uint16(b[k+1]))
		}
		all = append(all, string(utf16.Decode(codes)))
	}
	return all, nil
}
