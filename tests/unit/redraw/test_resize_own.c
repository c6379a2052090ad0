/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A motif's own mirrors, by a second definition on small charts that are rolled, and by hand.
 */
#include <CUnit/CUnit.h>
#include <stdlib.h>
#include <string.h>

#include "fixture_work.h"
#include "judged.h"
#include "plain_charts.h"
#include "small_chart.h"

/* --- a motif's own mirrors, a second time ------------------------------------------------------- */

/* Columns and rows as bits. */
struct plain_box {
    unsigned columns, rows;
};

/* Start and length of the bits; false: all round. */
static bool arc_of(unsigned bits, int n, bool ring, int *from, int *length)
{
    *length = 0;
    for (int i = 0; i < n; i++)
        *length += (bits & 1u << i) != 0;
    for (*from = 0; !(bits >> *from & 1) || (ring && *length < n && bits >> (*from + n - 1) % n & 1); ++*from)
        continue;
    return !ring || *length < n;
}

/* The shortest arc over the bits, the whole where there are two such. */
static unsigned arc_over(unsigned bits, int n, bool ring)
{
    unsigned whole = (1u << n) - 1, found = whole;
    int best = n, times = 0;

    for (int from = 0; from < n; from++)
        for (int length = 1; length < n && (ring || from + length <= n); length++) {
            unsigned arc = 0;

            for (int i = 0; i < length; i++)
                arc |= 1u << (from + i) % n;
            if ((bits & ~arc) != 0 || length > best)
                continue;
            times = length < best ? 1 : times + 1;
            best = length;
            found = arc;
        }
    return times == 1 ? found : whole;
}

static int boxes_of(const struct plain_chart *old, struct plain_box *boxes)
{
    uint8_t ground = plain_ground(old);
    int n = 0, cells = old->ncols * old->nrows;

    for (int i = 0; i < cells; i++) {
        struct plain_box box = {0};

        if (!is_first(old, i) || old->cell[i] == ground)
            continue;
        for (int j = 0; j < cells; j++)
            if (old->same[i][j]) {
                box.columns |= 1u << j % old->ncols;
                box.rows |= 1u << j / old->ncols;
            }
        boxes[n++] = (struct plain_box){arc_over(box.columns, old->ncols, true),
                                        arc_over(box.rows, old->nrows, old->ring)};
    }
    for (int i = 0; i < n; i++)
        for (int j = 0; j < i; j++)
            if ((boxes[i].columns & boxes[j].columns) && (boxes[i].rows & boxes[j].rows)) {
                boxes[j].columns |= boxes[i].columns;
                boxes[j].rows |= boxes[i].rows;
                boxes[i] = boxes[--n];
                i = 0;
                break;
            }
    return n;
}

/* One motif in one direction; what is said of columns goes for rows where it is upwards. */
struct plain_mirror {
    const struct plain_pair *pair;
    bool along;
    int from, length, n, nn;             /* its columns, of the old chart's and the new */
    int other_from, other_length, m, mm; /* its rows */
    bool turns, other_turns;             /* a ring */
};

/* The square of a chart at a column, a row; as they lie, -1 outside. */
static int lies_at(const struct plain_mirror *mirror, bool is_new, int i, int j)
{
    int n = is_new ? mirror->nn : mirror->n, m = is_new ? mirror->mm : mirror->m;

    if ((!mirror->turns && (i < 0 || i >= n)) || (!mirror->other_turns && (j < 0 || j >= m)))
        return -1;
    i = (i + 4 * n) % n;
    j = (j + 4 * m) % m;
    return mirror->along ? j * n + i : i * m + j;
}

static bool motif_is_mirrored(const struct plain_mirror *mirror)
{
    const uint8_t *cell = mirror->pair->old.cell;

    for (int j = 0; j < mirror->other_length; j++)
        for (int i = 0; i < mirror->length; i++)
            if (cell[lies_at(mirror, false, mirror->from + i, mirror->other_from + j)] !=
                cell[lies_at(mirror, false, mirror->from + mirror->length - 1 - i, mirror->other_from + j)])
                return false;
    return true;
}

/* Does new column c lie over an old stretch, unrolled? */
static bool lies_over(int c, int n, int nn, int from, int length)
{
    return c * n < (from + length) * nn && (c + 1) * n > from * nn;
}

static int cost_of(const struct plain_pair *pair, int square, uint8_t colour)
{
    int cost = pair->old.ncols * pair->old.nrows;

    for (int i = 0; i < pair->old.ncols * pair->old.nrows; i++)
        cost -= pair->old.cell[i] == colour ? pair->shared[i][square] : 0;
    return square < 0 ? 0 : cost;
}

/* Stitches over the motif, or their partners are, that are unlike these; least: the least area, twice, that
 * differs where none is; wide: columns there. The axis stands at half `twice`. */
static int unlike_about(const struct plain_mirror *mirror, int twice, int *least, int *wide)
{
    const struct plain_pair *pair = mirror->pair;
    int unlike = 0;

    *least = *wide = 0;
    for (int c = -2 * mirror->nn; c < 3 * mirror->nn; c++) {
        int to = twice - 1 - c, rows = 0;

        if (!lies_over(c, mirror->n, mirror->nn, mirror->from, mirror->length) &&
            !lies_over(to, mirror->n, mirror->nn, mirror->from, mirror->length))
            continue;
        ++*wide;
        for (int r = -mirror->mm; r < 3 * mirror->mm && rows < mirror->mm; r++) {
            int a = lies_at(mirror, true, c, r), b = lies_at(mirror, true, to, r), best = INT32_MAX;

            if (!lies_over(r, mirror->m, mirror->mm, mirror->other_from, mirror->other_length))
                continue;
            rows++;
            unlike += a >= 0 && b >= 0 && pair->new.cell[a] != pair->new.cell[b];
            for (uint8_t k = 0; k < 3; k++) {
                int cost = (a < 0 ? 0 : cost_of(pair, a, k)) + (b < 0 ? 0 : cost_of(pair, b, k));

                best = cost < best ? cost : best;
            }
            *least += best;
        }
    }
    if (mirror->turns && *wide > mirror->nn)
        *least = INT32_MAX; /* it meets itself behind */
    return unlike;
}

static bool line_in_middle(const struct plain_mirror *mirror)
{
    const uint8_t *cell = mirror->pair->old.cell;
    uint8_t ground = plain_ground(&mirror->pair->old);
    int middle = mirror->from + mirror->length / 2, run = 0, longest = 0;

    for (int j = 0; j < mirror->other_length; j++) {
        uint8_t here = cell[lies_at(mirror, false, middle, mirror->other_from + j)];

        run = here != ground && here != cell[lies_at(mirror, false, middle + 1, mirror->other_from + j)] ? run + 1 : 0;
        longest = run > longest ? run : longest;
    }
    return longest > 1;
}

static int axis_nearest(const struct plain_mirror *mirror, int odd, int *off)
{
    int best = 0;

    *off = INT32_MAX;
    for (int twice = odd - 2 * mirror->nn; twice < 6 * mirror->nn; twice++) {
        int away = abs(twice * mirror->n - mirror->nn * (2 * mirror->from + mirror->length));

        if ((twice - odd) % 2 == 0 && away < *off) {
            *off = away;
            best = twice;
        }
    }
    return best;
}

static int unlike_in(const struct plain_mirror *mirror)
{
    int odd = mirror->length % 2, off, other_off, least, other_least, wide, other_wide;
    int same = axis_nearest(mirror, odd, &off), changed = axis_nearest(mirror, !odd, &other_off);
    int unlike = unlike_about(mirror, same, &least, &wide);
    int other_unlike = unlike_about(mirror, changed, &other_least, &other_wide);
    bool stays = off == 0 || (odd && 2 * mirror->nn < 3 * mirror->n && line_in_middle(mirror));

    if (other_off == 0 || (!stays && other_least < least)) {
        unlike = other_unlike;
        wide = other_wide;
    }
    return mirror->turns && wide > mirror->nn ? 0 : unlike;
}

static int plain_unlike(const struct plain_pair *pair)
{
    struct plain_box boxes[CELLS];
    int nboxes = boxes_of(&pair->old, boxes), unlike = 0;

    for (int i = 0; i < nboxes; i++) {
        struct plain_mirror across = {.pair = pair, .along = true, .n = pair->old.ncols, .nn = pair->new.ncols,
                                      .m = pair->old.nrows, .mm = pair->new.nrows, .turns = true,
                                      .other_turns = pair->old.ring};
        struct plain_mirror upside = {.pair = pair, .n = across.m, .nn = across.mm, .m = across.n, .mm = across.nn,
                                      .turns = pair->old.ring, .other_turns = true};
        bool own_columns = arc_of(boxes[i].columns, across.n, true, &across.from, &across.length);
        bool own_rows = arc_of(boxes[i].rows, across.m, pair->old.ring, &across.other_from, &across.other_length);

        upside.from = across.other_from;
        upside.length = across.other_length;
        upside.other_from = across.from;
        upside.other_length = across.length;
        if (across.length < 3 || upside.length < 3)
            continue;
        unlike += own_columns && motif_is_mirrored(&across) ? unlike_in(&across) : 0;
        unlike += own_rows && motif_is_mirrored(&upside) ? unlike_in(&upside) : 0;
    }
    return unlike;
}

/* A motif with a mirror beside stitches as they fall: its own mirrors where the whole chart has none. */
static void judges_own_mirrors(void)
{
    struct work work = fixture_work();
    struct plain_pair *pair = arena_alloc(work.arena, 1, sizeof *pair);
    uint64_t state = 12;
    int judged = 0, with_unlike = 0;

    for (int i = 0; i < 300; i++) {
        uint8_t old_cell[CELLS] = {0}, cell[CELLS];
        int n = 5 + (int)dice_below(&state, 4), m = 4 + (int)dice_below(&state, 4);
        int nn = 4 + (int)dice_below(&state, 5), mm = 3 + (int)dice_below(&state, 6);
        int wide = 3 + (int)dice_below(&state, (uint32_t)n - 4), tall = 3 + (int)dice_below(&state, 2);
        int left = (int)dice_below(&state, (uint32_t)n);
        struct grid old = {m, n, old_cell};
        struct resize_question question = ask(&old, i % 2 == 0, nn, mm);
        struct resize_faults faults;
        int64_t area;

        old_cell[(int)dice_below(&state, (uint32_t)m) * n + (left + wide) % n] = 2;
        for (int r = 0; r < tall; r++)
            for (int c = 0; c < wide; c++)
                old_cell[r * n + (left + c) % n] = old_cell[r * n + (left + wide - 1 - c) % n] =
                    (uint8_t)(dice_below(&state, 3) > 0);
        for (int j = 0; j < nn * mm; j++)
            cell[j] = dice_below(&state, 4) > 0 ? old_cell[j / nn * m / mm * n + j % nn * n / nn]
                                                : old_cell[dice_below(&state, (uint32_t)(n * m))];
        if (motif_find(&old, i % 2 == 0).nmoves > 0)
            continue;
        judge_chart(&work, &question, cell, &faults, &area);
        pair_make(pair, &old, cell, nn, mm, i % 2 == 0);
        CU_ASSERT_EQUAL(faults.unlike, plain_unlike(pair));
        judged++;
        with_unlike += faults.unlike > 0;
    }
    CU_ASSERT(judged > 150);
    CU_ASSERT(with_unlike > 80 && with_unlike < judged);
    fixture_end(&work);
}

/* By hand: a cross of three beside a hook. The new chart is the old with one stitch more in the cross's box: its
 * partner left to right is unlike it, and so is that top to bottom. */
static void counts_unlike_partners(void)
{
    static const char *const rows[] = {"........", ".x...x..", "xxx..x..", ".x...xx.", "........"};
    struct work work = fixture_work();
    struct grid old = SMALL_CHART(work.arena, rows, ".x");
    struct resize_question question = ask(&old, false, 8, 5);
    uint8_t cell[40];
    struct resize_faults faults;
    int64_t area;

    memcpy(cell, old.cell, sizeof cell);
    judge_chart(&work, &question, cell, &faults, &area);
    CU_ASSERT_EQUAL(faults.unlike, 0);
    cell[3 * 8 + 7] = 1; /* top left of the box */
    judge_chart(&work, &question, cell, &faults, &area);
    CU_ASSERT_EQUAL(faults.unlike, 4);
    fixture_end(&work);
}

CU_TestInfo tests_resize_own[] = {
    {"judges own mirrors", judges_own_mirrors},
    {"counts unlike partners", counts_unlike_partners},
    CU_TEST_INFO_NULL,
};
