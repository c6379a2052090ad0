/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A sheet painted by cairo, for the writers of paper (pdf.c) and pictures (png.c).
 */
#ifndef STRANDWISE_PAPER_CAIRO_H
#define STRANDWISE_PAPER_CAIRO_H

#include <cairo.h>

#include "render/sheet/sheet.h"

void paper_paint(cairo_t *cairo, const struct sheet *sheet, const struct sheet_window *window,
                 enum sheet_painted painted);
/* A context on that surface: letters as wide as their face has them, on any surface. */
cairo_t *paper_cairo_create(cairo_surface_t *surface);

#endif
