/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Checked by second definitions, written out without care for time, on small charts that are rolled.
 */
#include <CUnit/CUnit.h>
#include <string.h>

#include "fixture_work.h"
#include "judged.h"
#include "plain_charts.h"
#include "small_chart.h"

static struct grid roll_chart(uint64_t *state, uint8_t *cell, int ncols, int nrows, int yarns)
{
    for (int i = 0; i < ncols * nrows; i++)
        cell[i] = (uint8_t)dice_below(state, (uint32_t)yarns);
    return (struct grid){nrows, ncols, cell};
}

/* --- the worked example ----------------------------------------------------------------------- */

/* Worked by hand (common practice): 24 x 20 at 6 x 7.5 to the inch is 32 x 25 at 8 x 9.5 and
 * 18 x 15 at 4.5 x 5.5: columns as even as before, for the centre line. */
static void sizes_the_worked_example(void)
{
    struct work work = fixture_work();
    uint8_t *cell = arena_alloc(work.arena, 24 * 20, 1);
    struct grid old = {20, 24, cell};
    int ncols, nrows;

    for (int r = 0; r < 20; r++)
        for (int c = 0; c < 12; c++)
            cell[r * 24 + c] = cell[r * 24 + 23 - c] = (uint8_t)(c + r < 14 && (c * r + c) % 3 == 0);
    resize_counts(&old, false, rational_make(24 * 8, 6), rational_make(20 * 95, 75), &ncols, &nrows);
    CU_ASSERT_EQUAL(ncols, 32);
    CU_ASSERT_EQUAL(nrows, 25);
    resize_counts(&old, false, rational_make(24 * 45, 60), rational_make(20 * 55, 75), &ncols, &nrows);
    CU_ASSERT_EQUAL(ncols, 18);
    CU_ASSERT_EQUAL(nrows, 15);
    resize_counts(&old, false, rational_make(24 * 7, 6), rational_make(20, 1), &ncols, &nrows);
    CU_ASSERT_EQUAL(ncols, 28);
    resize_counts(&old, false, rational_make(23, 1), rational_make(20, 1), &ncols, &nrows);
    CU_ASSERT_EQUAL(ncols, 24); /* 22 is as near: the larger */
    fixture_end(&work);
}

/* --- area ------------------------------------------------------------------------------------ */

/* Both charts on a grid fine enough for both, square by square. No symmetry: nothing is moved. */
static void measures_area(void)
{
    struct work work = fixture_work();
    uint64_t state = 5;

    for (int i = 0; i < 200; i++) {
        uint8_t old_cell[CELLS], cell[CELLS];
        int n = 4 + (int)dice_below(&state, 4), m = 4 + (int)dice_below(&state, 4);
        int nn = 2 + (int)dice_below(&state, 6), mm = 2 + (int)dice_below(&state, 6);
        struct grid old = roll_chart(&state, old_cell, n, m, 3);
        struct resize_question question = ask(&old, i % 2 == 0, nn, mm);
        struct motif motif = motif_find(&old, i % 2 == 0);
        struct resize_faults faults;
        int64_t area, differing = 0;

        roll_chart(&state, cell, nn, mm, 3);
        for (int k = 0; k < 3; k++)
            cell[k] = old_cell[k]; /* any colour of the new chart is in the old */
        for (int y = 0; y < m * mm; y++)
            for (int x = 0; x < n * nn; x++)
                differing += old_cell[y / mm * n + x / nn] != cell[y / m * nn + x / n];
        if (motif.nmoves > 0)
            continue;
        judge_chart(&work, &question, cell, &faults, &area);
        CU_ASSERT_EQUAL(area, 4 * differing);
    }
    fixture_end(&work);
}

/* --- lines, parts and floats, a second time ------------------------------------------------------ */

/* Does new square p lie over old square i, or one aside (stitches), or one above or below (rise)? */
static bool over_or_beside(const struct plain_pair *pair, int i, int p, int aside, int rise)
{
    const struct plain_chart *new = &pair->new;

    for (int dc = -aside; dc <= aside; dc++)
        for (int dr = -rise; dr <= rise; dr++) {
            int q = at(new, p % new->ncols + dc, p / new->ncols + dr);

            if (q >= 0 && pair->shared[i][q])
                return true;
        }
    return false;
}

static bool link_holds(const struct plain_pair *pair, int a, int b, int aside, int rise)
{
    const struct plain_chart *old = &pair->old, *new = &pair->new;

    for (int p = 0; p < new->ncols * new->nrows; p++)
        for (int q = 0; q < new->ncols * new->nrows; q++)
            if (new->hangs[p][q] && new->cell[p] == old->cell[a] && new->cell[q] == old->cell[a] &&
                over_or_beside(pair, a, p, aside, rise) && over_or_beside(pair, b, q, aside, rise))
                return true;
    return false;
}

/* Stitches on end of its colour through one, one way. */
static int on_end(const struct plain_chart *chart, int i, int dc, int dr)
{
    int run = 1;

    for (int sign = -1; sign <= 1; sign += 2)
        for (int k = 1; k < CELLS; k++) {
            int j = at(chart, (i % chart->ncols + sign * k * dc + CELLS * chart->ncols) % chart->ncols,
                       chart->ring ? (i / chart->ncols + sign * k * dr + CELLS * chart->nrows) % chart->nrows
                                   : i / chart->ncols + sign * k * dr);

            if (j < 0 || chart->cell[j] != chart->cell[i])
                break;
            run++;
        }
    return run;
}

/* b is beside a, or above it: along a rib four on end and two across. */
static bool along_rib(const struct plain_chart *chart, int a, int b)
{
    bool beside = a / chart->ncols == b / chart->ncols, above = a % chart->ncols == b % chart->ncols;

    return beside != above && on_end(chart, a, beside, above) >= 4 && on_end(chart, a, above, beside) <= 2 &&
           on_end(chart, b, above, beside) <= 2;
}

static int lines_broken(const struct plain_pair *pair)
{
    const struct plain_chart *old = &pair->old;
    int broken = 0;

    for (int a = 0; a < old->ncols * old->nrows; a++)
        for (int b = 0; b < a; b++) {
            if (!old->hangs[a][b] || (!thin(old, a) && !thin(old, b) && !along_rib(old, a, b)))
                continue;
            broken += !(a / old->ncols != b / old->ncols && link_holds(pair, a, b, 1, 0)) &&
                      !(a % old->ncols != b % old->ncols && link_holds(pair, a, b, 0, 1));
        }
    return broken;
}

static int common_area(const struct plain_pair *pair, int part, int new_part)
{
    int area = 0;

    for (int i = 0; i < pair->old.ncols * pair->old.nrows; i++)
        for (int j = 0; j < pair->new.ncols * pair->new.nrows; j++)
            if (pair->old.same[part][i] && pair->new.same[new_part][j] &&
                pair->old.cell[i] == pair->new.cell[j])
                area += pair->shared[i][j];
    return area;
}

static void parts_compared(const struct plain_pair *pair, struct resize_faults *faults)
{
    int owned[CELLS] = {0};
    bool touched[CELLS] = {false};
    int n = pair->old.ncols * pair->old.nrows;

    for (int j = 0; j < pair->new.ncols * pair->new.nrows; j++) {
        int most = 0, owner = -1;

        for (int i = 0; is_first(&pair->new, j) && i < n; i++) {
            int area = is_first(&pair->old, i) ? common_area(pair, i, j) : 0;

            touched[i] |= area > 0;
            if (area > most) {
                most = area;
                owner = i;
            }
        }
        if (is_first(&pair->new, j)) {
            faults->split += owner < 0 || owned[owner] > 0;
            if (owner >= 0)
                owned[owner]++;
        }
    }
    for (int i = 0; i < n; i++)
        if (is_first(&pair->old, i) && owned[i] == 0) {
            faults->joined += touched[i];
            faults->lost += !touched[i];
        }
}

/* Do two squares of a colour, so far apart, touch in that way? Slantwise: and neither square between has it. */
static bool touch_so(const struct plain_chart *chart, int i, int dc, int dr)
{
    int c = i % chart->ncols, r = i / chart->ncols, j = at(chart, c + dc, r + dr);
    int one = at(chart, c + dc, r), two = at(chart, c, r + dr);

    if (j < 0 || j == i || chart->cell[j] != chart->cell[i])
        return false;
    return dc == 0 || dr == 0 || (chart->cell[one] != chart->cell[i] && chart->cell[two] != chart->cell[i]);
}

static bool kept_so(const struct plain_pair *pair, int p, int q, int slant, int beside)
{
    const struct plain_chart *old = &pair->old;
    bool any = false, so = false;

    for (int i = 0; i < old->ncols * old->nrows; i++) {
        if (old->cell[i] != pair->new.cell[p] || (!pair->shared[i][p] && !pair->shared[i][q]))
            continue;
        any = true;
        for (int sign = -1; sign <= 1; sign += 2)
            so |= slant ? touch_so(old, i, sign, 1) || touch_so(old, i, sign, -1)
                        : touch_so(old, i, beside ? sign : 0, beside ? 0 : sign);
    }
    return so || !any;
}

static int plain_uneven(const struct plain_pair *pair)
{
    const struct plain_chart *old = &pair->old, *new = &pair->new;
    uint8_t ground = plain_ground(old);
    int uneven = 0;

    for (int p = 0; p < new->ncols * new->nrows; p++) {
        int c = p % new->ncols, r = p / new->ncols;

        if (new->cell[p] == ground)
            continue;
        if (2 * new->ncols < 3 * old->ncols && touch_so(new, p, 1, 0))
            uneven += !kept_so(pair, p, at(new, c + 1, r), 0, 1);
        if (2 * new->nrows < 3 * old->nrows && touch_so(new, p, 0, 1))
            uneven += !kept_so(pair, p, at(new, c, r + 1), 0, 0);
        for (int side = -1; side <= 1; side += 2)
            if (touch_so(new, p, side, 1))
                uneven += 2 * !kept_so(pair, p, at(new, c + side, r + 1), 1, 0);
    }
    return uneven;
}

/* Squares whose colour is not that of the square before; along a line with ends the first counts. */
static int plain_runs(const struct plain_chart *chart, bool row, int number)
{
    int runs = 0;

    for (int i = 0; i < (row ? chart->ncols : chart->nrows); i++) {
        int here = row ? at(chart, i, number) : at(chart, number, i);
        int before = row ? at(chart, i - 1, number) : at(chart, number, i - 1);

        runs += before < 0 || chart->cell[before] != chart->cell[here];
    }
    return runs;
}

/* Has the new row, or the one below or above it, a square that lies over one of the old row? */
static bool lies_by(const struct plain_pair *pair, bool row, int old_number, int new_number)
{
    const struct plain_chart *old = &pair->old, *new = &pair->new;

    for (int step = -1; step <= 1; step++)
        for (int i = 0; i < (row ? old->ncols : old->nrows); i++)
            for (int j = 0; j < (row ? new->ncols : new->nrows); j++) {
                int from = row ? at(old, i, old_number) : at(old, old_number, i);
                int to = row ? at(new, j, new_number + step) : at(new, new_number + step, j);

                if (to >= 0 && pair->shared[from][to])
                    return true;
            }
    return false;
}

static int plain_merged(const struct plain_pair *pair)
{
    int merged = 0;

    for (int row = 0; row <= 1; row++)
        for (int i = 0; i < (row ? pair->old.nrows : pair->old.ncols); i++) {
            int most = 0, was = plain_runs(&pair->old, row, i);

            for (int j = 0; j < (row ? pair->new.nrows : pair->new.ncols); j++)
                if (lies_by(pair, row, i, j) && plain_runs(&pair->new, row, j) > most)
                    most = plain_runs(&pair->new, row, j);
            merged += was > most ? was - most : 0;
        }
    return merged;
}

static void judges_lines_and_parts(void)
{
    struct work work = fixture_work();
    struct plain_pair *pair = arena_alloc(work.arena, 1, sizeof *pair);
    uint64_t state = 6;
    int judged = 0, with_faults = 0, with_uneven = 0, with_merged = 0;

    for (int i = 0; i < 400; i++) {
        uint8_t old_cell[CELLS], cell[CELLS];
        int n = 3 + (int)dice_below(&state, 4), m = 2 + (int)dice_below(&state, 4);
        int nn = 3 + (int)dice_below(&state, 4), mm = 2 + (int)dice_below(&state, 4);
        bool ring = i % 2 == 0;
        struct grid old = roll_chart(&state, old_cell, n, m, 2 + i % 3 / 2);
        struct resize_question question = ask(&old, ring, nn, mm);
        struct resize_faults faults, again = {0};
        int64_t area;

        for (int j = 0; j < nn * mm; j++) /* near the old chart, or nothing would be kept */
            cell[j] = dice_below(&state, 4) > 0 ? old_cell[j / nn * m / mm * n + j % nn * n / nn]
                                                : old_cell[dice_below(&state, (uint32_t)(n * m))];
        if (motif_find(&old, ring).nmoves > 0)
            continue;
        judge_chart(&work, &question, cell, &faults, &area);
        pair_make(pair, &old, cell, nn, mm, ring);
        again.lines = lines_broken(pair);
        parts_compared(pair, &again);
        CU_ASSERT_EQUAL(faults.uneven, plain_uneven(pair));
        CU_ASSERT_EQUAL(faults.merged, plain_merged(pair));
        with_merged += faults.merged > 0;
        with_uneven += faults.uneven > 0;
        CU_ASSERT_EQUAL(faults.lines, again.lines);
        CU_ASSERT_EQUAL(faults.split, again.split);
        CU_ASSERT_EQUAL(faults.joined, again.joined);
        CU_ASSERT_EQUAL(faults.lost, again.lost);
        judged++;
        with_faults += resize_faults_of_drawing(&faults) > 0;
    }
    CU_ASSERT(judged > 250);
    CU_ASSERT(with_faults > 100 && with_faults < judged);
    CU_ASSERT(with_uneven > 50 && with_uneven < judged);
    CU_ASSERT(with_merged > 50 && with_merged < judged);
    fixture_end(&work);
}

/* By hand: a rib two wide, cut through half and whole. */
static void knows_a_rib(void)
{
    static const char *const rows[] = {".....xx.", ".....xx.", ".....xx.", ".....xx.", ".....xx.", ".....xx."};
    struct work work = fixture_work();
    struct grid old = SMALL_CHART(work.arena, rows, ".x");
    struct resize_question question = ask(&old, false, 8, 6);
    uint8_t cell[48];
    struct resize_faults faults;
    int64_t area;

    memcpy(cell, old.cell, sizeof cell);
    judge_chart(&work, &question, cell, &faults, &area);
    CU_ASSERT_EQUAL(faults.lines, 0);
    cell[3 * 8 + 1] = 0; /* one wide there */
    judge_chart(&work, &question, cell, &faults, &area);
    CU_ASSERT_EQUAL(faults.lines, 0);
    cell[3 * 8 + 2] = 0; /* cut: of each of its two stitches, what is below and what is above */
    judge_chart(&work, &question, cell, &faults, &area);
    CU_ASSERT_EQUAL(faults.lines, 4);
    fixture_end(&work);
}

/* By hand: the old row has floats of 5 and 1 in x, of 1 and 1 in the ground; 3 may be left loose. */
static void counts_new_long_floats(void)
{
    static const char *const rows[] = {"x.x....."};
    struct work work = fixture_work();
    struct grid old = SMALL_CHART(work.arena, rows, ".x");
    struct resize_question question = ask(&old, false, 8, 1);
    static const uint8_t kept[8] = {0, 0, 0, 0, 0, 1, 0, 1}, longer[8] = {0, 0, 0, 0, 0, 0, 0, 1},
                         two[8] = {0, 1, 0, 0, 0, 0, 1, 1}, ground[8] = {1, 1, 1, 1, 0, 1, 1, 1};
    struct resize_faults faults;
    int64_t area;

    judge_chart(&work, &question, kept, &faults, &area);
    CU_ASSERT_EQUAL(faults.floats + resize_faults_of_drawing(&faults), 0);
    CU_ASSERT_EQUAL(area, 0);
    judge_chart(&work, &question, longer, &faults, &area);
    CU_ASSERT_EQUAL(faults.floats, 0); /* of x there was one already */
    judge_chart(&work, &question, two, &faults, &area);
    CU_ASSERT_EQUAL(faults.floats, 0);
    judge_chart(&work, &question, ground, &faults, &area);
    CU_ASSERT_EQUAL(faults.floats, 1); /* the ground had none */
    fixture_end(&work);
}

/* --- too crowded --------------------------------------------------------------------------------- */

/* Both laid on units fine enough: for every stretch its runs and the new stitches over it. */
static void finds_the_crowded_stretch(void)
{
    uint64_t state = 9;
    int crowded = 0;

    for (int i = 0; i < 300; i++) {
        uint8_t cell[CELLS];
        int n = 3 + (int)dice_below(&state, 9), nn = 2 + (int)dice_below(&state, 9), lack = 0;
        struct grid old = roll_chart(&state, cell, n, 1, 2);
        struct motif_line line = {.count = nn, .phase = (int)dice_below(&state, (uint32_t)n) - n / 2};
        struct resize_crowd found = resize_crowd_find(&old, &line, true, true, 0);

        for (int from = 0; from < n; from++)
            for (int length = 1; length <= n; length++) {
                bool over[CELLS] = {false};
                int runs = 1, room = 0;

                for (int k = 1; k < length; k++)
                    runs += cell[(from + k) % n] != cell[(from + k - 1) % n];
                if (length == n && runs > 1 && cell[from] == cell[(from + n - 1) % n])
                    continue;
                for (int unit = 2 * nn * from; unit < 2 * nn * (from + length); unit++)
                    over[(unit + (int)line.phase + 2 * n * nn) / (2 * n) % nn] = true;
                for (int k = 0; k < nn; k++)
                    room += over[k];
                lack = runs - room > lack ? runs - room : lack;
                if (from == found.from && length == found.length) {
                    CU_ASSERT_EQUAL(found.runs, runs);
                    CU_ASSERT_EQUAL(found.room, room);
                }
            }
        CU_ASSERT_EQUAL(found.runs - found.room, lack);
        crowded += lack > 0;
    }
    CU_ASSERT(crowded > 50 && crowded < 300);
}

/* By hand: two lines one stitch apart, over half as many stitches. Each new one lies over two, here over a
 * line and the gap on its left: four runs, two stitches. */
static void counts_two_lines(void)
{
    static const uint8_t cell[8] = {0, 0, 1, 0, 1, 0, 0, 0};
    struct grid old = {1, 8, cell};
    struct motif_line line = {.count = 4};
    struct resize_crowd crowd = resize_crowd_find(&old, &line, true, true, 0);

    CU_ASSERT_EQUAL(crowd.from, 2);
    CU_ASSERT_EQUAL(crowd.length, 4);
    CU_ASSERT_EQUAL(crowd.runs, 4);
    CU_ASSERT_EQUAL(crowd.room, 2);
}

/* A bar of four stitches by twelve rows drawn on half as many rows, new row i over old rows 2i and 2i + 1: one new row
 * left out parts it. By hand: the shorter piece is what came off, whether it stands below the longer or above. */
static void marks_what_came_off(void)
{
    for (int gap = 2; gap <= 5; gap += 3) {
        struct work work = fixture_work();
        uint8_t old_cell[16 * 8] = {0}, cell[8 * 8] = {0};
        struct grid old = {16, 8, old_cell};
        struct resize_question question = ask(&old, false, 8, 8);
        struct resize_answer answer = {0};
        int off = gap == 2 ? 1 : 6; /* the new row of the shorter piece: of 1 to 6 */

        for (int row = 2; row < 14; row++)
            memset(old_cell + row * 8 + 2, 1, 4);
        for (int row = 1; row < 7; row++)
            memset(cell + row * 8 + 2, row != gap, 4);
        resize_look_over(judged_state(&work, &question, cell, &answer), &answer);
        CU_ASSERT_EQUAL(answer.broken_rows.count, 2);
        CU_ASSERT_EQUAL(answer.broken_rows.number[0], 2 * off);
        CU_ASSERT_EQUAL(answer.broken_rows.number[1], 2 * off + 1);
        CU_ASSERT_EQUAL(answer.broken_columns.count, 4);
        CU_ASSERT_EQUAL(answer.broken_columns.number[0], 2);
        CU_ASSERT_EQUAL(answer.broken_columns.number[3], 5);
        CU_ASSERT_EQUAL(answer.broken_new_rows.count, 1);
        CU_ASSERT_EQUAL(answer.broken_new_rows.number[0], off);
        fixture_end(&work);
    }
}

/* By hand: the first row is two stitches, a gap of two, two stitches; the gap is filled. Four runs became two, and
 * neither what lies above nor below (through the join) has more. Turned a quarter, the same of the first column. */
static void finds_what_is_simpler(void)
{
    for (int turned = 0; turned < 2; turned++) {
        struct work work = fixture_work();
        uint8_t old_cell[8 * 8] = {0}, cell[8 * 8] = {0};
        struct grid old = {8, 8, old_cell};
        struct resize_question question = ask(&old, true, 8, 8);
        struct resize_answer answer = {0};
        const struct resize_simpler *simpler = turned ? &answer.simpler_columns : &answer.simpler_rows;
        const struct resize_simpler *other = turned ? &answer.simpler_rows : &answer.simpler_columns;

        for (int i = 0; i < 12; i++) {
            int at = turned ? i % 6 * 8 + i / 6 : i / 6 * 8 + i % 6;

            cell[at] = 1;
            old_cell[at] = i != 2 && i != 3;
        }
        resize_look_over(judged_state(&work, &question, cell, &answer), &answer);
        CU_ASSERT_EQUAL(answer.broken_rows.count, 0);
        CU_ASSERT_EQUAL_FATAL(simpler->at.count, 1);
        CU_ASSERT_EQUAL(simpler->at.number[0], 0);
        CU_ASSERT_EQUAL(simpler->worst, 0);
        CU_ASSERT_EQUAL(simpler->was, 4);
        CU_ASSERT_EQUAL(simpler->now, 2);
        CU_ASSERT_EQUAL(other->at.count, 0);
        fixture_end(&work);
    }
}

CU_TestInfo tests_resize[] = {
    {"sizes the worked example", sizes_the_worked_example},
    {"measures area", measures_area},
    {"judges lines and parts", judges_lines_and_parts},
    {"counts new long floats", counts_new_long_floats},
    {"finds the crowded stretch", finds_the_crowded_stretch},
    {"counts two lines", counts_two_lines},
    {"knows a rib", knows_a_rib},
    {"marks what came off", marks_what_came_off},
    {"finds what is simpler", finds_what_is_simpler},
    CU_TEST_INFO_NULL,
};
