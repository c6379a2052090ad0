/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A sheet painted by cairo, for the writers of paper (sheet/pdf.c) and pictures (sheet/png.c).
 */
#ifndef STRANDWISE_SHEET_CAIRO_H
#define STRANDWISE_SHEET_CAIRO_H

#include <cairo.h>

#include "sheet.h"

/* The part of a sheet that is painted; what lies wholly outside is left out, or each of the pages of
 * a large chart would hold all of it. */
struct sheet_window {
    double x_mm, y_mm, x2_mm, y2_mm;
};

enum sheet_painted { PAINT_ALL, PAINT_SHAPES, PAINT_WORDS };

/* Words alone are painted where their anchor is within the window, wherever they reach. */
void sheet_paint(cairo_t *cairo, const struct sheet *sheet, const struct sheet_window *window,
                 enum sheet_painted painted);
/* Words put at 0, 0, narrowed to their room. */
void sheet_paint_words(cairo_t *cairo, const struct sheet_item *item);
/* A context on that surface: letters as wide as their face has them, on any surface. */
cairo_t *sheet_cairo_create(cairo_surface_t *surface);

/* Returned: -1, reported. */
int sheet_refuse(struct work *work, const char *what, const char *todo);

#endif
