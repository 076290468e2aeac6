package main
import (
 _ "github.com/alecthomas/participle/v2"
 _ "github.com/jung-kurt/gofpdf"
 _ "github.com/spf13/cobra"
 _ "gonum.org/v1/gonum/mat"
 _ "github.com/go-fonts/dejavu/dejavusans"
 _ "github.com/google/go-cmp/cmp"
 _ "pgregory.net/rapid"
 _ "github.com/rogpeppe/go-internal/testscript"
 _ "golang.org/x/image/font/sfnt"
 _ "github.com/rivo/uniseg"
 _ "golang.org/x/term"
)
