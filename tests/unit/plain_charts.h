/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * An old chart and a new one, written out without care for time: how stitches hang together, what lies over what.
 */
#ifndef STRANDWISE_TEST_PLAIN_CHARTS_H
#define STRANDWISE_TEST_PLAIN_CHARTS_H

#include <string.h>

#include "model/redraw/resize_internal.h"

enum { CELLS = 64 };

static inline struct resize_question ask(const struct grid *old, bool ring, int ncols, int nrows)
{
    struct resize_question question = {
        .old = old, .rows_are_ring = ring, .ncols = ncols, .nrows = nrows, .old_leave_sts = 3, .leave_sts = 3};

    for (int y = 0; y < GRID_YARNS_MAX; y++)
        question.knitted_as[y] = (uint8_t)y;
    return question;
}

struct plain_chart {
    const uint8_t *cell;
    int ncols, nrows;
    bool ring;
    bool hangs[CELLS][CELLS]; /* directly */
    bool same[CELLS][CELLS];  /* part */
};

static inline int at(const struct plain_chart *chart, int c, int r)
{
    if (!chart->ring && (r < 0 || r >= chart->nrows))
        return -1;
    return (r + 2 * chart->nrows) % chart->nrows * chart->ncols + (c + 2 * chart->ncols) % chart->ncols;
}

static inline void hang(struct plain_chart *chart, int a, int b)
{
    if (a >= 0 && b >= 0 && chart->cell[a] == chart->cell[b])
        chart->hangs[a][b] = chart->hangs[b][a] = true;
}

static inline int around(const struct plain_chart *chart, int c, int r, int like)
{
    int count = 0;

    for (int dc = -1; dc <= 2; dc++)
        for (int dr = -1; dr <= 2; dr++) {
            int i = at(chart, c + dc, r + dr);

            count += i >= 0 && chart->cell[i] == chart->cell[like];
        }
    return count;
}

static inline void hang_corner(struct plain_chart *chart, int c, int r)
{
    int a = at(chart, c, r), b = at(chart, c + 1, r), d = at(chart, c, r + 1), e = at(chart, c + 1, r + 1);
    bool one, two;

    if (d < 0)
        return;
    one = chart->cell[a] == chart->cell[e] && chart->cell[a] != chart->cell[b] && chart->cell[a] != chart->cell[d];
    two = chart->cell[b] == chart->cell[d] && chart->cell[b] != chart->cell[a] && chart->cell[b] != chart->cell[e];
    if (one && (!two || around(chart, c, r, a) <= around(chart, c, r, b)))
        hang(chart, a, e);
    if (two && (!one || around(chart, c, r, b) <= around(chart, c, r, a)))
        hang(chart, b, d);
}

static inline void chart_hang(struct plain_chart *chart)
{
    int n = chart->ncols * chart->nrows;

    for (int r = 0; r < chart->nrows; r++)
        for (int c = 0; c < chart->ncols; c++) {
            hang(chart, at(chart, c, r), at(chart, c + 1, r));
            hang(chart, at(chart, c, r), at(chart, c, r + 1));
            hang_corner(chart, c, r);
        }
    for (int i = 0; i < n; i++) {
        chart->hangs[i][i] = true;
        memcpy(chart->same[i], chart->hangs[i], sizeof chart->same[i]);
    }
    for (int k = 0; k < n; k++)
        for (int i = 0; i < n; i++)
            for (int j = 0; j < n; j++)
                chart->same[i][j] |= chart->same[i][k] && chart->same[k][j];
}

static inline bool thin(const struct plain_chart *chart, int i)
{
    int c = i % chart->ncols, r = i / chart->ncols;

    for (int from = 0; from < 4; from++) {
        bool block = true;

        for (int k = 0; k < 4; k++) {
            int other = at(chart, c - from % 2 + k % 2, r - from / 2 + k / 2);

            block &= other >= 0 && chart->cell[other] == chart->cell[i];
        }
        if (block)
            return false;
    }
    return true;
}

struct plain_pair {
    struct plain_chart old, new;
    int shared[CELLS][CELLS]; /* area of an old and a new square, nothing moved */
};

/* The first square of a part stands for it. */
static inline bool is_first(const struct plain_chart *chart, int i)
{
    for (int j = 0; j < i; j++)
        if (chart->same[i][j])
            return false;
    return true;
}

static inline void pair_make(struct plain_pair *pair, const struct grid *old, const uint8_t *cell, int ncols,
                      int nrows, bool ring)
{
    memset(pair, 0, sizeof *pair);
    pair->old = (struct plain_chart){.cell = old->cell, .ncols = old->ncols, .nrows = old->nrows, .ring = ring};
    pair->new = (struct plain_chart){.cell = cell, .ncols = ncols, .nrows = nrows, .ring = ring};
    chart_hang(&pair->old);
    chart_hang(&pair->new);
    for (int y = 0; y < old->nrows * nrows; y++)
        for (int x = 0; x < old->ncols * ncols; x++)
            pair->shared[y / nrows * old->ncols + x / ncols][y / old->nrows * ncols + x / old->ncols]++;
}

static inline uint8_t plain_ground(const struct plain_chart *old)
{
    uint8_t ground = old->cell[0];
    int best = -1;

    for (int i = 0; i < old->ncols * old->nrows; i++) { /* colours in the order met */
        int solid = 0, all = 0;

        for (int j = 0; j < old->ncols * old->nrows; j++) {
            all += old->cell[j] == old->cell[i];
            solid += old->cell[j] == old->cell[i] && !thin(old, j);
        }
        if (CELLS * solid + all > best) {
            best = CELLS * solid + all;
            ground = old->cell[i];
        }
    }
    return ground;
}

#endif
