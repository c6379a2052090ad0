/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A redrawn chart put out: in words, as JSON, drawn, and as a chart to knit from.
 */
#ifndef STRANDWISE_REDRAW_H
#define STRANDWISE_REDRAW_H

#include "plan/redraw/redraw.h"
#include "render/render.h"
#include "render/sheet/sheet.h"

/* Old and new in words and marks. (report/redraw.c) */
void render_redraw(struct work *work, const struct plan *plan, const struct plan_redraw *redraw,
                   const struct words_style *style, struct text *out);

/* docs/redraw.schema.json (json/redraw.c) */
void render_redraw_json(const struct plan *plan, const struct plan_redraw *redraw, struct text *out);
void render_redraw_json_schema(struct text *out);

/* Both charts to one scale, so that the motif has the same finished size in both: on one sheet, or, where
 * that is larger than a page and pages are wanted, on one each. Given: room for two. Returned: how many.
 * (draw/redraw.c) */
enum { REDRAW_SHEETS_MAX = 2 };
int draw_redraw(struct work *work, const struct plan *plan, const struct plan_redraw *redraw, bool pages,
                struct sheet **sheets);

/* The new chart as a file, in marks. (redraw_chart.c) */
void redraw_write_chart(const struct plan *plan, const struct plan_redraw *redraw, struct text *out);
/* Or as a picture of one dot a stitch, where redraw->picture_why is NULL: rows of red, green and blue from the
 * top, as many and as wide as redraw->band->drawn has. */
const unsigned char *redraw_dots(struct work *work, const struct plan *plan, const struct plan_redraw *redraw);

#endif
