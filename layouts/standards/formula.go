package standards

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"strconv"

	"maskloft/geometry/same"
)

// Formula is a number as a document has it or as geometry makes it: 1/8, 0.55,
// (3 - sqrt(5)) / 2, sin(18). It has + - * / and parentheses, sin and cos of
// degrees, sqrt, names that an option of the rule gives, and size: the governing
// size in inches.
type Formula string

// Eval computes f with the given names. An empty formula, an unknown name or
// anything else is an error.
func (f Formula) Eval(known map[string]float64) (float64, error) {
	e, err := parser.ParseExpr(string(f))
	if err != nil {
		return 0, fmt.Errorf("%q is not a formula", string(f))
	}
	v, err := eval(e, known)
	if err != nil {
		return 0, fmt.Errorf("%q: %w", string(f), err)
	}
	return v, nil
}

// names returns the names that f uses, functions left out.
func (f Formula) names() []string {
	e, err := parser.ParseExpr(string(f))
	if err != nil {
		return nil
	}
	var out []string
	ast.Inspect(e, func(n ast.Node) bool {
		if call, ok := n.(*ast.CallExpr); ok {
			for _, a := range call.Args {
				ast.Inspect(a, func(n ast.Node) bool {
					if id, ok := n.(*ast.Ident); ok {
						out = append(out, id.Name)
					}
					return true
				})
			}
			return false
		}
		if id, ok := n.(*ast.Ident); ok {
			out = append(out, id.Name)
		}
		return true
	})
	return out
}

func eval(e ast.Expr, known map[string]float64) (float64, error) {
	switch e := e.(type) {
	case *ast.BasicLit:
		if e.Kind == token.INT || e.Kind == token.FLOAT {
			return strconv.ParseFloat(e.Value, 64)
		}
	case *ast.ParenExpr:
		return eval(e.X, known)
	case *ast.Ident:
		if v, ok := known[e.Name]; ok {
			return v, nil
		}
		return 0, fmt.Errorf("unknown name %s", e.Name)
	case *ast.UnaryExpr:
		v, err := eval(e.X, known)
		if e.Op == token.SUB {
			return -v, err
		}
	case *ast.BinaryExpr:
		x, err := eval(e.X, known)
		if err != nil {
			return 0, err
		}
		y, err := eval(e.Y, known)
		if err != nil {
			return 0, err
		}
		switch e.Op {
		case token.ADD:
			return x + y, nil
		case token.SUB:
			return x - y, nil
		case token.MUL:
			return x * y, nil
		case token.QUO:
			return x / y, nil
		}
	case *ast.CallExpr:
		name, ok := e.Fun.(*ast.Ident)
		if !ok || len(e.Args) != 1 {
			break
		}
		v, err := eval(e.Args[0], known)
		if err != nil {
			return 0, err
		}
		switch name.Name {
		case "sin":
			return same.Sin(v * math.Pi / 180), nil
		case "cos":
			return same.Cos(v * math.Pi / 180), nil
		case "sqrt":
			return math.Sqrt(v), nil
		}
		return 0, fmt.Errorf("unknown function %s", name.Name)
	}
	return 0, fmt.Errorf("only numbers, + - * /, parentheses, sin, cos and sqrt")
}
