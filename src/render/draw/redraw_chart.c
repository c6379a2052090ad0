/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The redrawn chart as a file that a project can name: in marks, or a picture of one dot a stitch.
 */
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "redraw.h"
#include "words/say.h"

static void add_stitches(const struct plan_redraw *redraw, const struct grid *grid, int row, struct text *out)
{
    for (int c = grid->ncols - 1; c >= 0; c--)
        text_add(out, redraw->marks[grid->cell[row * grid->ncols + c]].mark);
}

void redraw_write_chart(const struct plan *plan, const struct plan_redraw *redraw, struct text *out)
{
    const struct plan_band *band = redraw->band;
    const struct grid *chart = &band->drawn;
    bool barred = band->left.ncols + band->right.ncols > 0;

    text_addf(out, "; %s, redrawn from %s: %d stitches by %d %s.\n", band->name, redraw->old->chart_name,
              chart->ncols, chart->nrows, say_rounds(plan->round)->many);
    for (int y = 0; y < redraw->nmarks; y++)
        if (!redraw->marks[y].given)
            text_addf(out, "; mark = %s under [yarn %s].\n", redraw->marks[y].mark, redraw->marks[y].yarn);
    for (int r = chart->nrows - 1; r >= 0; r--) {
        if (barred) {
            add_stitches(redraw, &band->left, r, out);
            text_add(out, " | ");
        }
        add_stitches(redraw, chart, r, out);
        if (barred) {
            text_add(out, " | ");
            add_stitches(redraw, &band->right, r, out);
        }
        text_add(out, "\n");
    }
}

const unsigned char *redraw_dots(struct work *work, const struct plan *plan, const struct plan_redraw *redraw)
{
    const struct grid *chart = &redraw->band->drawn;
    unsigned char *dots = arena_alloc(work->arena, 3 * (size_t)chart->ncols * (size_t)chart->nrows, 1);

    for (int r = 0; r < chart->nrows; r++)
        for (int c = 0; c < chart->ncols; c++) {
            size_t at = (size_t)(chart->nrows - 1 - r) * (size_t)chart->ncols + (size_t)(chart->ncols - 1 - c);

            memcpy(dots + 3 * at, plan->piece.yarns[chart->cell[r * chart->ncols + c]].rgb, 3);
        }
    return dots;
}
