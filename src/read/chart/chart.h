/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Charts: text or picture to grid. Nothing is judged but the form.
 *
 * Text: the top row first, one mark a stitch, white space between marks ignored; `;` starts
 * a comment, on a line of its own or behind a row; a row number at either end, set off by
 * white space, is ignored (unless a yarn's mark is a digit). Side stitches of flat work:
 * left | repeat | right, both bars.
 * PNG: one pixel a stitch, or equal square blocks with `across`, whose middle decides; each
 * colour goes to the nearest shade (CIEDE2000); fully transparent is no stitch.
 */
#ifndef STRANDWISE_CHART_H
#define STRANDWISE_CHART_H

#include "base/grid.h"
#include "read/project/project.h"

enum { CHART_BYTES_MAX = 64 << 20 };

/* The rows of a chart written in marks, row 0 the lowest: where its marks stand in its file. */
struct chart_written {
    const struct source *source;
    const struct chart_line {
        int line;
        const char *from, *to;
    } *row;
};

struct chart {
    const char *name;         /* as in the project: "ripple.chart", "panel, stripe" */
    struct place at;          /* the value of `chart =` */
    struct grid repeat;       /* yarn index as drawn (a yarn sewn on under its own index) */
    struct grid left, right;  /* side stitches, same rows; ncols 0: none */
    const struct chart_written *written;  /* NULL: a picture, or several side by side */
    const struct chart *const *beside;    /* [nbeside] of those, the first at the right */
    int nbeside;                          /* 0: one chart */
};

/* The chart of a band: its files read (named beside the project file; NAME, else NAME.chart,
 * else NAME.png) and set side by side. NULL after reporting every fault found. */
const struct chart *chart_read_band(struct work *work, const struct project *project,
                                    const struct part *band);

/* Where a stitch of the repeat (row, column from 0) is written; of a picture, where it is named. */
struct place chart_place(const struct chart *chart, int row, int column); /* chart_place.c */

/* One text chart, and one picture (bytes of a PNG). across 0: one pixel a stitch. */
const struct chart *chart_read_text(struct work *work, const struct project *project,
                                    const struct source *source);
const struct chart *chart_read_png(struct work *work, const struct project *project,
                                   const struct source *source, int across, struct place at);

#endif
