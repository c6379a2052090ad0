/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A chart in characters, for a terminal or a file of text.
 */
#ifndef STRANDWISE_DRAW_TEXT_H
#define STRANDWISE_DRAW_TEXT_H

#include <stdbool.h>

#include "base/text.h"
#include "plan/plan.h"

struct draw_text_style {
    bool wrong_side;
    bool changes;     /* the stitches that could be changed, in place of the catches */
    bool colour;      /* each stitch on its yarn's shade */
    bool true_colour; /* the shade itself, else the nearest of 256 */
    int width;        /* columns of the window; a wider chart is put in panels */
};

/* Append a band's chart: heading, chart, legend.
 * Notes: without colour it holds the marks alone and no control characters. A line may be wider
 * than width where ten stitches are. Checked: test_draw_text, charts written by hand. */
void draw_band_text(struct work *work, const struct plan *plan, const struct plan_band *band,
                    const struct draw_text_style *style, struct text *out);

/* The nearest of a terminal's 256 colours, without the first 16, which differ between terminals.
 * Source: the six steps and 24 greys as xterm documents them (from memory). */
int draw_text_nearest(const unsigned char rgb[3]);

#endif
