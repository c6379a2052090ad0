/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What an eye minds though nothing is broken: a one-stitch line that is two wide in places, and stitches
 * that meet by their corners alone, as on a chequer-board, where the old chart was solid.
 */
#include <string.h>

#include "resize_internal.h"

enum { SLANT_WEIGHS = 2 };

/* --- the old chart ------------------------------------------------------------------------------ */

static uint8_t ground_of(const struct resize_frame *frame)
{
    int solid[GRID_YARNS_MAX] = {0}, all[GRID_YARNS_MAX] = {0}, ground = 0;

    for (int i = 0; i < frame->old.ncols * frame->old.nrows; i++) {
        uint8_t colour = frame->old.cell[i];

        all[colour]++;
        solid[colour] += !resize_is_thin(frame, i % frame->old.ncols, i / frame->old.ncols);
    }
    for (int k = 1; k < frame->ncolours; k++)
        if (solid[k] > solid[ground] || (solid[k] == solid[ground] && all[k] > all[ground]))
            ground = k;
    return (uint8_t)ground;
}

static void holes_set(struct resize_frame *frame)
{
    const struct resize_parts *parts = &frame->parts;

    frame->is_hole = arena_alloc(frame->work->arena, (size_t)parts->nparts, 1);
    for (int part = 0; part < parts->nparts; part++)
        frame->is_hole[part] =
            parts->next[parts->head[part]] < 0 && frame->old.cell[parts->head[part]] == frame->ground;
}

/* --- touching --------------------------------------------------------------------------------- */

static void old_touch(const struct resize_frame *frame, int c, int r, uint8_t *touches)
{
    const uint8_t *cell = frame->old.cell;
    int a = resize_square(&frame->old_shape, c, r), b = resize_square(&frame->old_shape, c + 1, r);
    int d = resize_square(&frame->old_shape, c, r + 1), e = resize_square(&frame->old_shape, c + 1, r + 1), found;

    touches[a] |= EVEN_UNDER;
    if (b != a && cell[a] == cell[b]) {
        touches[a] |= EVEN_BESIDE;
        touches[b] |= EVEN_BESIDE;
    }
    if (d < 0 || d == a)
        return;
    if (cell[a] == cell[d]) {
        touches[a] |= EVEN_ABOVE;
        touches[d] |= EVEN_ABOVE;
    }
    found = resize_slants(cell[a], cell[b], cell[d], cell[e]);
    if (found & 1) {
        touches[a] |= EVEN_SLANT;
        touches[e] |= EVEN_SLANT;
    }
    if (found & 2) {
        touches[b] |= EVEN_SLANT;
        touches[d] |= EVEN_SLANT;
    }
}

static void touches_set(struct resize_frame *frame)
{
    int k = frame->ncolours, ncols = frame->old.ncols, n = ncols * frame->old.nrows;
    uint8_t *touches = arena_alloc(frame->work->arena, (size_t)n, 1), always = 0;
    struct resize_under *under;

    for (int i = 0; i < n; i++)
        old_touch(frame, i % ncols, i / ncols, touches);
    /* from one and a half times the stitches on, a line two wide is nearer than one of one */
    always |= 2 * frame->shape.ncols >= 3 * ncols ? EVEN_BESIDE : 0;
    always |= 2 * frame->shape.nrows >= 3 * frame->old.nrows ? EVEN_ABOVE : 0;
    frame->touches = arena_alloc(frame->work->arena, (size_t)frame->ncells * (size_t)k, 1);
    under = arena_alloc(frame->work->arena, (size_t)frame->x.stride * (size_t)frame->y.stride, sizeof *under);
    for (int at = 0; at < frame->ncells; at++) {
        uint8_t *found = frame->touches + (size_t)at * (size_t)k;
        int nunder = resize_frame_under(frame, at, under);

        for (int i = 0; i < nunder; i++)
            found[frame->old.cell[under[i].which]] |= touches[under[i].which] | always;
        found[frame->ground] = 0; /* which may do as it likes */
    }
}

/* Of two squares of one colour that touch in that way: did none of that colour under them? */
static int differs(const struct resize_frame *frame, const uint8_t *cell, int a, int b, int way)
{
    uint8_t touches = frame->touches[a * frame->ncolours + cell[a]] | frame->touches[b * frame->ncolours + cell[a]];

    return touches != 0 && !(touches & way);
}

/* By the square and the one on its left. */
static int uneven_beside(const struct resize_frame *frame, const uint8_t *cell, int c, int r)
{
    int ncols = frame->shape.ncols, at = r * ncols + c, left = r * ncols + (c + 1 < ncols ? c + 1 : 0);

    return left != at && cell[at] == cell[left] && differs(frame, cell, at, left, EVEN_BESIDE);
}

/* And above. */
static int uneven_above(const struct resize_frame *frame, const uint8_t *cell, int c, int r)
{
    int ncols = frame->shape.ncols, up = r + 1 < frame->shape.nrows ? r + 1 : 0;
    int at = r * ncols + c, above = up * ncols + c;

    return above != at && (up > 0 || frame->shape.ring) && cell[at] == cell[above] &&
           differs(frame, cell, at, above, EVEN_ABOVE);
}

/* And the two pairs of corners between these. */
static int uneven_slants(const struct resize_frame *frame, const uint8_t *cell, int c, int r)
{
    int ncols = frame->shape.ncols, left = c + 1 < ncols ? c + 1 : 0, up = r + 1 < frame->shape.nrows ? r + 1 : 0;
    int at = r * ncols + c, beside = r * ncols + left, above = up * ncols + c, corner = up * ncols + left, found;

    if (left == c || up == r || (up == 0 && !frame->shape.ring))
        return 0;
    found = resize_slants(cell[at], cell[beside], cell[above], cell[corner]);
    return SLANT_WEIGHS * ((found & 1 && differs(frame, cell, at, corner, EVEN_SLANT)) +
                           (found & 2 && differs(frame, cell, beside, above, EVEN_SLANT)));
}

/* By the square and the three up left of it. */
static int uneven_at(const struct resize_frame *frame, const uint8_t *cell, int c, int r)
{
    return uneven_beside(frame, cell, c, r) + uneven_above(frame, cell, c, r) + uneven_slants(frame, cell, c, r);
}

int resize_even_about(const struct resize_frame *frame, const uint8_t *cell, int at)
{
    int c = at % frame->shape.ncols, r = at / frame->shape.ncols, uneven = uneven_at(frame, cell, c, r);
    int right = c > 0 ? c - 1 : frame->shape.ncols - 1, down = r > 0 ? r - 1 : frame->shape.nrows - 1;

    if (right != c)
        uneven += uneven_beside(frame, cell, right, r) + uneven_slants(frame, cell, right, r);
    if (down != r)
        uneven += uneven_above(frame, cell, c, down) + uneven_slants(frame, cell, c, down);
    if (right != c && down != r)
        uneven += uneven_slants(frame, cell, right, down);
    return uneven;
}

int resize_even_all(const struct resize_frame *frame, const uint8_t *cell)
{
    int uneven = 0;

    for (int i = 0; i < frame->ncells; i++)
        uneven += uneven_at(frame, cell, i % frame->shape.ncols, i / frame->shape.ncols);
    return uneven;
}

void resize_even_set(struct resize_frame *frame)
{
    frame->ground = ground_of(frame);
    holes_set(frame);
    touches_set(frame);
}
