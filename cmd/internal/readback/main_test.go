package readback

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/klippa-app/go-pdfium"
	"github.com/klippa-app/go-pdfium/webassembly"
	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/experimental"
)

// pdfiumInstance is the one PDFium of the test run; tests of this package do not run
// in parallel.
var pdfiumInstance pdfium.Pdfium

func TestMain(m *testing.M) {
	stop, err := start()
	if err != nil {
		fmt.Fprintln(os.Stderr, "PDFium does not start:", err)
		os.Exit(1)
	}
	code := m.Run()
	stop()
	os.Exit(code)
}

// start compiles PDFium, or takes it from the cache: 0.2 s instead of 3 to 5.
func start() (stop func(), err error) {
	ctx := context.Background()
	dir, err := os.UserCacheDir()
	if err != nil {
		dir = os.TempDir()
	}
	cache, err := wazero.NewCompilationCacheWithDir(filepath.Join(dir, "floatmark-test", "wazero"))
	if err != nil {
		// A cache that cannot be kept costs time and nothing else.
		cache = wazero.NewCompilationCache()
	}
	// PDFium's build needs exception handling; a configuration of our own loses
	// it unless it is named again.
	config := wazero.NewRuntimeConfig().
		WithCoreFeatures(api.CoreFeaturesV2 | experimental.CoreFeaturesExceptionHandling).
		WithCompilationCache(cache)
	pool, err := webassembly.Init(webassembly.Config{
		Context: ctx, MinIdle: 1, MaxIdle: 1, MaxTotal: 1,
		RuntimeConfig: config, FSConfig: wazero.NewFSConfig(), // it needs no files
	})
	if err != nil {
		return nil, err
	}
	pdfiumInstance, err = pool.GetInstance(time.Minute)
	if err != nil {
		return nil, err
	}
	return func() {
		_ = pdfiumInstance.Close()
		_ = pool.Close()
		_ = cache.Close(ctx)
	}, nil
}
