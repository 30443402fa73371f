// Package policy says what a browser is to let the site's pages and workers do:
// one text for the pages themselves, for our server and for the header files of
// other hosts.
package policy

import "strings"

// Page is the content security policy of the pages: nothing from another
// origin, no inline script, HTML only by the one policy of pwa/first.js.
// Inline style is let through because the fitting sheet, shown in a frame,
// carries its own style sheet and inherits this policy; with images, fonts and
// connections held to our own origin it can send nothing. The analysis starts
// from a blob, because such a worker is held to the policy of its page on every
// host (pwa/worker.js).
const Page = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self' 'unsafe-inline'; " +
	"img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; worker-src 'self' blob:; manifest-src 'self'; " +
	"frame-src 'self' blob:; base-uri 'none'; form-action 'self'; require-trusted-types-for 'script'; trusted-types default"

// Header is Page with what only a header can say: no page may frame us.
const Header = Page + "; frame-ancestors 'none'"

// Headers are sent with every answer.
var Headers = [][2]string{
	{"Content-Security-Policy", Header},
	{"X-Frame-Options", "DENY"},
	{"X-Content-Type-Options", "nosniff"},
	{"Referrer-Policy", "no-referrer"},
	{"Cross-Origin-Opener-Policy", "same-origin"},
	{"Cross-Origin-Resource-Policy", "same-origin"},
	{"Permissions-Policy", "camera=(), geolocation=(), microphone=(self), payment=(), usb=()"},
	{"Cache-Control", "no-cache"},
}

// Files are the header files that common kinds of static host read beside the
// site, by name: a list of paths with headers, an Apache folder's settings, and
// lines to include in an nginx server.
func Files() map[string]string {
	var list, apache, nginx strings.Builder
	list.WriteString("/*\n")
	apache.WriteString("<IfModule mod_headers.c>\n")
	for _, h := range Headers {
		list.WriteString("  " + h[0] + ": " + h[1] + "\n")
		apache.WriteString("  Header always set " + h[0] + " \"" + h[1] + "\"\n")
		nginx.WriteString("add_header " + h[0] + " \"" + h[1] + "\" always;\n")
	}
	apache.WriteString("</IfModule>\nAddType application/wasm .wasm\nAddType application/manifest+json .webmanifest\nErrorDocument 404 /404.html\n" +
		"RewriteEngine On\nRewriteCond %{REQUEST_FILENAME} !-f\nRewriteCond %{DOCUMENT_ROOT}%{REQUEST_URI}.html -f\nRewriteRule ^(.+[^/])$ $1.html [L]\n")
	return map[string]string{"_headers": list.String(), ".htaccess": apache.String(), "headers.nginx": nginx.String()}
}
