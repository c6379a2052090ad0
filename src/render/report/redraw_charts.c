/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Old and new chart in marks below the words of the redraw.
 */
#include "redraw_charts.h"

#include "render/draw/redraw.h"
#include "words/words.h"

struct saying {
    const struct page *page;
    const struct plan_redraw *redraw;
};

/* Side stitches at either end, if any, and the places it all takes. */
struct shown {
    const struct grid *grid, *left, *right;
    const uint8_t *changed;
    int places;
};

static struct shown shown_of(const struct plan_band *band, const uint8_t *changed)
{
    int sides = band->left.ncols + band->right.ncols;

    return (struct shown){&band->drawn, &band->left, &band->right, changed,
                          2 * (band->drawn.ncols + sides) + 3 + (sides > 0 ? 4 : 0)};
}

/* Leftmost stitch first, two places a stitch. */
static void add_stitches(const struct saying *say, const struct grid *grid, int row, const uint8_t *changed)
{
    for (int c = grid->ncols - 1; c >= 0; c--) {
        int at = row * grid->ncols + c;

        text_add(say->page->out, say->redraw->mark[grid->cell[at]]);
        text_add(say->page->out, changed && changed[at] ? "*" : " ");
    }
}

static void add_row(const struct saying *say, const struct shown *shown, int row)
{
    bool barred = shown->left->ncols + shown->right->ncols > 0;

    add_stitches(say, shown->left, row, NULL);
    text_add(say->page->out, barred ? "| " : "");
    add_stitches(say, shown->grid, row, shown->changed);
    text_add(say->page->out, barred ? "| " : "");
    add_stitches(say, shown->right, row, NULL);
    text_addf(say->page->out, "%3d", row + 1);
}

static void add_chart(const struct saying *say, const char *name, const struct shown *shown)
{
    text_addf(say->page->out, "\n%s:\n", name);
    for (int r = shown->grid->nrows - 1; r >= 0; r--) {
        add_row(say, shown, r);
        text_add(say->page->out, "\n");
    }
}

/* Standing on one line. */
static void add_beside(const struct saying *say, const struct shown *old, const struct shown *new)
{
    struct text *out = say->page->out;
    int tallest = old->grid->nrows > new->grid->nrows ? old->grid->nrows : new->grid->nrows;

    text_add(out, "\nOld:");
    text_repeat(out, ' ', old->places);
    text_add(out, "New:\n");
    for (int r = tallest - 1; r >= 0; r--) {
        if (r < old->grid->nrows)
            add_row(say, old, r);
        else
            text_repeat(out, ' ', old->places);
        if (r < new->grid->nrows) {
            text_add(out, "    ");
            add_row(say, new, r);
        }
        text_add(out, "\n");
    }
}

void redraw_add_charts(const struct page *page, const struct plan_redraw *redraw)
{
    const struct saying saying = {page, redraw}, *say = &saying;
    const struct shown old = shown_of(say->redraw->old, NULL), new = shown_of(say->redraw->band, say->redraw->changed);

    if (old.places + new.places + 4 <= say->page->style->width) {
        add_beside(say, &old, &new);
        return;
    }
    add_chart(say, "Old", &old);
    add_chart(say, "New", &new);
}
