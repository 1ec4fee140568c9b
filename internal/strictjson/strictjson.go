// Package strictjson reads JSON into a struct without guessing: every key of the
// struct must be there, once, with a value of its type, and no other key may be.
// All that is wrong is reported in one error, each fault with the path of its key.
//
// The struct may hold float64, int, string and bool fields, maps of string to string,
// further structs, pointers to and lists of any of these, each with a json tag naming
// its key. A pointer's key may be missing, which leaves nil; a field tagged "-" is
// not in the file.
package strictjson

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"reflect"
	"slices"
	"strings"
	"unicode/utf8"

	"meltflight/internal/input"
)

// Decode reads data into the struct that into points at. On an error, for which
// errors.Is(err, input.ErrInvalid) holds, the struct is left as it was.
func Decode(data []byte, into any) error {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")) // as some editors mark UTF-8
	if bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) {
		return fault("the file is text in UTF-16; save it as UTF-8")
	}
	if !utf8.Valid(data) { // the decoder would put marks of its own in place of letters
		return fault("the file is not UTF-8; save it as UTF-8")
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	var f faults
	tree, err := f.value(d, "", 0)
	if err == nil {
		if _, end := d.Token(); !errors.Is(end, io.EOF) {
			err = errors.New("something follows the closing brace")
		}
	}
	if err != nil {
		return fault("not JSON near " + place(data, d.InputOffset()) + ": " + wording(err))
	}
	target := reflect.ValueOf(into).Elem()
	fresh := reflect.New(target.Type()).Elem()
	if object, ok := tree.(map[string]any); ok {
		f.fill(fresh, object, "")
	} else {
		f.add("the file", "is "+describe(tree)+", not an object in braces")
	}
	if len(f) > 0 {
		return errors.Join(f...)
	}
	target.Set(fresh)
	return nil
}

// fault is one thing wrong with a file.
type fault string

// Error says what is wrong, and with which key.
func (f fault) Error() string { return string(f) }

// Is makes a fault of a file an invalid input like any other.
func (f fault) Is(target error) bool { return target == input.ErrInvalid }

type faults []error

func (f *faults) add(path, what string) { *f = append(*f, fault(path+" "+what)) }

// deepest is deeper than any struct nests, and keeps a hostile file from
// exhausting the stack.
const deepest = 100

// value reads one value; objects keep the first of keys that come twice.
func (f *faults) value(d *json.Decoder, path string, depth int) (any, error) {
	if depth > deepest {
		return nil, errors.New("nested too deeply")
	}
	token, err := d.Token()
	if err != nil {
		return nil, err
	}
	switch token {
	case json.Delim('{'):
		object := map[string]any{}
		for d.More() {
			key, err := d.Token()
			if err != nil {
				return nil, err
			}
			name := key.(string)
			v, err := f.value(d, join(path, name), depth+1)
			if err != nil {
				return nil, err
			}
			if _, twice := object[name]; twice {
				f.add(join(path, name), "is there twice")
				continue
			}
			object[name] = v
		}
		_, err = d.Token()
		return object, err
	case json.Delim('['):
		list := []any{}
		for d.More() {
			v, err := f.value(d, element(path, len(list)), depth+1)
			if err != nil {
				return nil, err
			}
			list = append(list, v)
		}
		_, err = d.Token()
		return list, err
	}
	return token, nil
}

func (f *faults) fill(target reflect.Value, object map[string]any, path string) {
	known := map[string]bool{}
	for i := range target.NumField() {
		key := keyOf(target, i)
		if key == "-" {
			continue
		}
		known[key] = true
		if v, ok := object[key]; ok {
			f.set(target.Field(i), v, join(path, key))
		} else if target.Field(i).Kind() != reflect.Pointer {
			f.add(join(path, key), "is missing: "+wanted(target.Field(i))+" is needed")
		}
	}
	for _, key := range slices.Sorted(maps.Keys(object)) {
		if !known[key] {
			f.add(join(path, key), "is not a known key: allowed "+strings.Join(keys(target), ", "))
		}
	}
}

func (f *faults) set(field reflect.Value, v any, path string) {
	switch field.Kind() {
	case reflect.Pointer:
		fresh := reflect.New(field.Type().Elem())
		f.set(fresh.Elem(), v, path)
		field.Set(fresh)
		return
	case reflect.Struct:
		if object, ok := v.(map[string]any); ok {
			f.fill(field, object, path)
			return
		}
	case reflect.Slice:
		if list, ok := v.([]any); ok {
			field.Set(reflect.MakeSlice(field.Type(), len(list), len(list)))
			for i, v := range list {
				f.set(field.Index(i), v, element(path, i))
			}
			return
		}
	case reflect.Map:
		if object, ok := v.(map[string]any); ok {
			f.texts(field, object, path)
			return
		}
	case reflect.Float64:
		if n, ok := v.(json.Number); ok {
			x, err := n.Float64()
			if err != nil {
				f.add(path, "= "+n.String()+" is too large a number")
			} else if mantissa, _, _ := strings.Cut(strings.ToLower(n.String()), "e"); x == 0 && strings.ContainsAny(mantissa, "123456789") {
				f.add(path, "= "+n.String()+" is too small a number")
			}
			field.SetFloat(x)
			return
		}
	case reflect.Int:
		if n, ok := v.(json.Number); ok {
			x, err := n.Int64()
			if err != nil {
				f.add(path, "= "+n.String()+": a whole number is needed")
			}
			field.SetInt(x)
			return
		}
	case reflect.String:
		if s, ok := v.(string); ok {
			field.SetString(s)
			return
		}
	case reflect.Bool:
		if b, ok := v.(bool); ok {
			field.SetBool(b)
			return
		}
	}
	f.add(path, "is "+describe(v)+": "+wanted(field)+" is needed")
}

// texts fills a map of string to string.
func (f *faults) texts(field reflect.Value, object map[string]any, path string) {
	field.Set(reflect.MakeMapWithSize(field.Type(), len(object)))
	for _, key := range slices.Sorted(maps.Keys(object)) {
		text := reflect.New(field.Type().Elem()).Elem()
		f.set(text, object[key], join(path, key))
		field.SetMapIndex(reflect.ValueOf(key), text)
	}
}

func element(path string, i int) string { return fmt.Sprintf("%s[%d]", path, i) }

// keyOf returns the key of a struct's field, without options such as omitempty.
func keyOf(target reflect.Value, i int) string {
	key, _, _ := strings.Cut(target.Type().Field(i).Tag.Get("json"), ",")
	return key
}

func join(path, key string) string { return strings.TrimPrefix(path+"."+key, ".") }

func keys(target reflect.Value) []string {
	var list []string
	for i := range target.NumField() {
		if key := keyOf(target, i); key != "-" {
			list = append(list, key)
		}
	}
	return list
}

func wanted(field reflect.Value) string {
	switch field.Kind() {
	case reflect.Struct, reflect.Map, reflect.Pointer:
		return "an object in braces"
	case reflect.Slice:
		return "a list in brackets"
	case reflect.Float64:
		return "a number"
	case reflect.Int:
		return "a whole number"
	case reflect.Bool:
		return "true or false"
	}
	return "a text in quotes"
}

func describe(v any) string {
	switch v := v.(type) {
	case map[string]any:
		return "an object"
	case []any:
		return "a list"
	case string:
		return fmt.Sprintf("the text %q", v)
	case nil:
		return "null"
	}
	return fmt.Sprintf("%v", v)
}

// place words an offset as line and column.
func place(data []byte, offset int64) string {
	before := data[:min(int(offset), len(data))]
	line := bytes.Count(before, []byte("\n")) + 1
	return fmt.Sprintf("line %d, column %d", line, len(before)-bytes.LastIndexByte(before, '\n'))
}

func wording(err error) string {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return "the file ends too early"
	}
	return strings.TrimPrefix(err.Error(), "json: ") + " (numbers take a decimal point; there is no NaN or infinity)"
}
