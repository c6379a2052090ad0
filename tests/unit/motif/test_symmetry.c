/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Near symmetries: against the nearest of all charts that have one, found by listing every chart; and
 * by hand.
 */
#include <CUnit/CUnit.h>

#include "fixture_work.h"
#include "model/motif/symmetry.h"
#include "small_chart.h"

extern CU_TestInfo tests_symmetry[];

enum { CELLS = 9, CHARTS = 1 << CELLS };

static int bits(unsigned x)
{
    int n = 0;

    for (; x; x &= x - 1)
        n++;
    return n;
}

static int fold(int at, int count)
{
    return ((at % count) + count) % count;
}

/* Second definition: the same motion, written out. */
static int moved(enum symmetry_kind kind, int row, int column, int nrows, int ncols, int at)
{
    int r = at / ncols, c = at % ncols;

    switch (kind) {
    case SYMMETRY_ACROSS:
        return fold(r + row, nrows) * ncols + fold(column - c, ncols);
    case SYMMETRY_UPSIDE:
        return fold(row - r, nrows) * ncols + fold(c + column, ncols);
    case SYMMETRY_TURN:
        return fold(row - r, nrows) * ncols + fold(column - c, ncols);
    default:
        return fold(r + row, nrows) * ncols + fold(c + column, ncols);
    }
}

static unsigned moved_chart(enum symmetry_kind kind, int row, int column, int nrows, int ncols,
                            unsigned chart)
{
    unsigned out = 0;

    for (int at = 0; at < nrows * ncols; at++)
        if (chart >> at & 1)
            out |= 1u << moved(kind, row, column, nrows, ncols, at);
    return out;
}

/* Every move there is, glides too. */
static bool is_of_kind(enum symmetry_kind kind, int row, int column)
{
    if (kind == SYMMETRY_ALONG)
        return row == 0 && column > 0;
    return kind != SYMMETRY_DROP || row > 0;
}

/* Fewest cells between a chart and one that a motion of that kind leaves as it is. */
static int nearest(enum symmetry_kind kind, int nrows, int ncols, unsigned chart)
{
    int least = CELLS + 1;
    unsigned all = 1u << (nrows * ncols);

    for (int row = 0; row < nrows; row++)
        for (int column = 0; column < ncols; column++) {
            if (!is_of_kind(kind, row, column))
                continue;
            for (unsigned other = 0; other < all; other++)
                if (moved_chart(kind, row, column, nrows, ncols, other) == other &&
                    bits(other ^ chart) < least)
                    least = bits(other ^ chart);
        }
    return least;
}

static void compare_all(int nrows, int ncols)
{
    struct work work = fixture_work();
    int wrong = 0, none = 0;

    for (unsigned chart = 0; chart < 1u << (nrows * ncols); chart += 3) { /* a third of them: time */
        uint8_t cell[CELLS];
        struct grid grid = {nrows, ncols, cell};
        struct symmetry_field field = {&grid, true, true, 0};

        for (int at = 0; at < nrows * ncols; at++)
            cell[at] = chart >> at & 1;
        field.ground = symmetry_ground(&grid);
        for (int kind = 0; kind < SYMMETRY_KINDS; kind++) {
            struct symmetry best = {.breaks = CELLS + 1};
            int expected = nearest((enum symmetry_kind)kind, nrows, ncols, chart);
            struct symmetry_wish wish = {.most_breaks = CELLS};
            bool found = symmetry_best(&work, &field, (enum symmetry_kind)kind, &wish, &best) ==
                         SYMMETRY_FOUND;

            none += !found;
            wrong += found != (expected <= CELLS) || (found && best.breaks != expected);
        }
    }
    CU_ASSERT_EQUAL(wrong, 0);
    CU_ASSERT_TRUE(none == 0);
    fixture_end(&work);
}

static void nearest_of_all_charts(void)
{
    compare_all(2, 4);
    compare_all(3, 3);
    compare_all(4, 2);
}

/* Not a ring upwards. Second definition: nothing wraps; what is drawn again above is compared while there are rows.
 * A move up is one of those where the whole height is a number of such pieces, and the last of them, moved
 * once more, would be the first; but not straight up. */
static bool repeats_upwards(bool mirrored, int up, int column, int nrows, int ncols, unsigned chart)
{
    for (int r = 0; r + up < nrows; r++)
        for (int c = 0; c < ncols; c++) {
            int to = fold(mirrored ? column - c : column + c, ncols);

            if ((chart >> (r * ncols + c) & 1) != (chart >> ((r + up) * ncols + to) & 1))
                return false;
        }
    return true;
}

static bool is_first_again(bool mirrored, int up, int column, int nrows, int ncols)
{
    int at = 1 % ncols;

    for (int r = 0; r < nrows; r += up)
        at = fold(mirrored ? column - at : column + at, ncols);
    return nrows % up == 0 && at == 1 % ncols && (mirrored ? nrows / up % 2 == 0 : column > 0);
}

static int nearest_upwards(bool mirrored, int nrows, int ncols, unsigned chart)
{
    int least = CELLS + 1;

    for (int up = 1; up < nrows; up++)
        for (int column = 0; column < ncols; column++)
            for (unsigned other = 0; other < 1u << (nrows * ncols); other++)
                if (is_first_again(mirrored, up, column, nrows, ncols) && bits(other ^ chart) < least &&
                    repeats_upwards(mirrored, up, column, nrows, ncols, other))
                    least = bits(other ^ chart);
    return least;
}

static int compare_upwards(int nrows, int ncols)
{
    struct work work = fixture_work();
    int wrong = 0, glides = 0;

    for (unsigned chart = 0; chart < 1u << (nrows * ncols); chart++) {
        uint8_t cell[CELLS];
        struct grid grid = {nrows, ncols, cell};
        struct symmetry_field field = {&grid, true, false, 0};
        struct symmetry_wish wish = {.most_breaks = CELLS};
        struct symmetry drop, across;
        int straight, glide = nearest_upwards(true, nrows, ncols, chart);

        for (int at = 0; at < nrows * ncols; at++)
            cell[at] = chart >> at & 1;
        field.ground = symmetry_ground(&grid);
        symmetry_best(&work, &field, SYMMETRY_DROP, &wish, &drop);
        wrong += drop.breaks != nearest_upwards(false, nrows, ncols, chart);
        wish.straight = true;
        symmetry_best(&work, &field, SYMMETRY_ACROSS, &wish, &across);
        straight = (int)across.breaks;
        wrong += across.row != 0;
        wish.straight = false;
        symmetry_best(&work, &field, SYMMETRY_ACROSS, &wish, &across);
        wrong += across.breaks != (glide < straight ? glide : straight);
        glides += across.row > 0;
    }
    CU_ASSERT_EQUAL(wrong, 0);
    fixture_end(&work);
    return glides;
}

static void no_join_upwards(void)
{
    int glides = compare_upwards(4, 2);

    CU_ASSERT_TRUE(glides + compare_upwards(2, 4) > 0);
}

/* The search that is given up says so, and else finds what one without a bound does: never another. */
static void given_up(void)
{
    static const char *const rows[] = {"x...x.....x.", "..x.....x...", ".....x......", "x......x...x",
                                       "...x......x.", ".x....x....."};
    struct work work = fixture_work();
    struct grid grid = SMALL_CHART(work.arena, rows, ".x");
    struct symmetry_field field = {&grid, true, true, 0};
    struct grid large = {1001, 1000, arena_alloc(work.arena, 1001000, 1)};
    struct symmetry_field large_field = {&large, true, true, 0};

    for (int kind = 0; kind < SYMMETRY_KINDS; kind++) {
        struct symmetry_wish wish = {.most_breaks = 100};
        struct symmetry best, other;
        enum symmetry_found before = SYMMETRY_GIVEN_UP;
        int turned = 0;

        CU_ASSERT_EQUAL(symmetry_best(&work, &field, (enum symmetry_kind)kind, &wish, &best), SYMMETRY_FOUND);
        for (wish.steps_max = 1; wish.steps_max <= 4000; wish.steps_max++) {
            enum symmetry_found found =
                symmetry_best(&work, &field, (enum symmetry_kind)kind, &wish, &other);

            turned += found != before;
            before = found;
            if (found != SYMMETRY_GIVEN_UP)
                CU_ASSERT(other.breaks == best.breaks && other.row == best.row && other.column == best.column);
        }
        CU_ASSERT_EQUAL(turned, 1); /* given up under some bound, found from there on */
        CU_ASSERT_EQUAL(before, SYMMETRY_FOUND);
        CU_ASSERT_EQUAL(symmetry_best(&work, &large_field, (enum symmetry_kind)kind, &wish, &other),
                        SYMMETRY_GIVEN_UP);
    }
    fixture_end(&work);
}

/* The bound itself: a million stitches in slanting lines, broken here and there by four that change places, so that rows
 * and columns have as many as ever and every fourth half-turn fails late. */
static void given_up_in_a_large_chart(void)
{
    enum { SIDE = 1000 };
    struct work work = fixture_work();
    uint8_t *cell = arena_alloc(work.arena, (size_t)SIDE * SIDE, 1);
    struct grid grid = {SIDE, SIDE, cell};
    struct symmetry_field field = {&grid, true, true, 0};
    struct symmetry_wish wish = {.most_breaks = 12};
    struct symmetry best;
    uint64_t state = 5;

    for (int at = 0; at < SIDE * SIDE; at++)
        cell[at] = (at / SIDE + at % SIDE) % 4 == 1;
    for (int row = 0; row < SIDE; row += 80) {
        int other = row + 1 + 4 * (int)dice_below(&state, 9);
        int column = 4 * (int)dice_below(&state, SIDE / 4) + (1 - row % 4 + 4) % 4;
        int beside = 4 * (int)dice_below(&state, SIDE / 4) + (1 - other % 4 + 4) % 4;

        CU_ASSERT_TRUE(cell[row * SIDE + column] && cell[other * SIDE + beside]);
        cell[row * SIDE + column] = cell[other * SIDE + beside] = 0;
        cell[row * SIDE + beside] = cell[other * SIDE + column] = 1;
    }
    CU_ASSERT_EQUAL(symmetry_best(&work, &field, SYMMETRY_TURN, &wish, &best), SYMMETRY_GIVEN_UP);
    CU_ASSERT_EQUAL(symmetry_best(&work, &field, SYMMETRY_ALONG, &wish, &best), SYMMETRY_NONE);
    fixture_end(&work);
}

/* Without a join: the chart in the middle of a sheet of its ground, three times as wide and high. */
static int64_t breaks_on_sheet(const struct symmetry_field *field, const struct symmetry *s)
{
    const struct grid *grid = field->grid;
    int64_t differ = 0;

    for (int row = -grid->nrows; row < 2 * grid->nrows; row++)
        for (int column = -grid->ncols; column < 2 * grid->ncols; column++) {
            int at[2][2] = {{row, column},
                            {s->kind == SYMMETRY_ACROSS ? row : s->row - row,
                             s->kind == SYMMETRY_UPSIDE ? column : s->column - column}};
            uint8_t yarn[2];

            for (int i = 0; i < 2; i++) {
                bool inside = at[i][0] >= 0 && at[i][0] < grid->nrows && at[i][1] >= 0 &&
                              at[i][1] < grid->ncols;

                yarn[i] = inside ? grid->cell[at[i][0] * grid->ncols + at[i][1]] : field->ground;
            }
            differ += yarn[0] != yarn[1];
        }
    return differ / 2;
}

static void alone_on_its_ground(void)
{
    struct work work = fixture_work();
    uint64_t state = 7;
    int compared = 0;

    for (int trial = 0; trial < 300; trial++) {
        uint8_t cell[7 * 9];
        struct grid grid = {7, 9, cell};
        struct symmetry_field field = {&grid, false, false, 0};

        for (size_t i = 0; i < sizeof cell; i++)
            cell[i] = dice_below(&state, 5) == 0 ? (uint8_t)(1 + dice_below(&state, 2)) : 0;
        field.ground = symmetry_ground(&grid);
        for (int kind = 0; kind < SYMMETRY_ALONG; kind++) {
            struct symmetry_wish wish = {.most_breaks = 100};
            struct symmetry best, s = {.kind = (enum symmetry_kind)kind, .times = 2};
            int64_t least = 1000;

            CU_ASSERT_EQUAL_FATAL(symmetry_best(&work, &field, (enum symmetry_kind)kind, &wish, &best),
                                  SYMMETRY_FOUND);
            CU_ASSERT_EQUAL(breaks_on_sheet(&field, &best), best.breaks);
            for (s.row = kind == SYMMETRY_ACROSS ? 0 : 5; s.row <= (kind == SYMMETRY_ACROSS ? 0 : 7); s.row++)
                for (s.column = kind == SYMMETRY_UPSIDE ? 0 : 6;
                     s.column <= (kind == SYMMETRY_UPSIDE ? 0 : 10); s.column++)
                    least = breaks_on_sheet(&field, &s) < least ? breaks_on_sheet(&field, &s) : least;
            CU_ASSERT_EQUAL(best.breaks, least);
            compared++;
        }
    }
    CU_ASSERT_EQUAL(compared, 900);
    fixture_end(&work);
}

/* Counted by hand. One stitch has gone astray in the third row from below. */
static void by_hand(void)
{
    static const char *const rows[] = {"....x...", "...x.x..", "..x...x.", "...x....", "....x..."};
    struct work work = fixture_work();
    struct grid grid = SMALL_CHART(work.arena, rows, ".x");
    struct symmetry_field field = {&grid, true, false, 0};
    struct symmetry best;
    struct symmetry_wish wish = {.most_breaks = 3};
    int row, column;

    CU_ASSERT_EQUAL(symmetry_best(&work, &field, SYMMETRY_ACROSS, &wish, &best), SYMMETRY_FOUND);
    CU_ASSERT_EQUAL(best.breaks, 1);
    CU_ASSERT_EQUAL(best.column, 6);   /* about the 4th from the right */
    CU_ASSERT_EQUAL(best.agreeing, 4); /* two pairs; the two on the axis are their own partners */
    CU_ASSERT_TRUE(symmetry_partner(&field, &best, 1, 4, &row, &column));
    CU_ASSERT_EQUAL(row, 1);
    CU_ASSERT_EQUAL(column, 2);
    wish.most_breaks = 0;
    CU_ASSERT_EQUAL(symmetry_best(&work, &field, SYMMETRY_ACROSS, &wish, &best), SYMMETRY_NONE);
    fixture_end(&work);
}

/* Read to the left and to the right from each line, the rows say the same: every chart of 2 x 4 in three yarns. */
static void mirror_lines(void)
{
    enum { WIDE = 4, TALL = 2, ALL = 6561 };
    struct work work = fixture_work();
    int wrong = 0, mirrors = 0;

    for (int number = 0; number < ALL; number++) {
        uint8_t cell[TALL * WIDE];
        struct grid grid = {TALL, WIDE, cell};
        bool is_line[2 * WIDE];

        for (int i = 0, left = number; i < TALL * WIDE; i++, left /= 3)
            cell[i] = (uint8_t)(left % 3);
        for (int half = 0; half < 2 * WIDE; half++) {
            int left = half % 2 ? (half + 1) / 2 : half / 2, right = half / 2;

            is_line[half] = true;
            for (int row = 0; row < TALL; row++)
                for (int i = 0; i < WIDE; i++)
                    is_line[half] = is_line[half] && cell[row * WIDE + (left + i) % WIDE] ==
                                                         cell[row * WIDE + fold(right - i, WIDE)];
            mirrors += is_line[half];
        }
        for (int from = 0; from < WIDE; from++) {
            int next = from;

            while (next < from + WIDE && !is_line[next])
                next++;
            wrong += symmetry_next_mirror(&work, &grid, from) != (next < from + WIDE ? next : -1);
        }
    }
    CU_ASSERT_EQUAL(wrong, 0);
    CU_ASSERT_TRUE(mirrors > 0);
    fixture_end(&work);
}

CU_TestInfo tests_symmetry[] = {{"the nearest of all charts", nearest_of_all_charts},
                                {"no join upwards", no_join_upwards},
                                {"given up", given_up},
                                {"given up in a large chart", given_up_in_a_large_chart},
                                {"alone on its ground", alone_on_its_ground},
                                {"by hand", by_hand},
                                {"mirror lines, read both ways", mirror_lines},
                                CU_TEST_INFO_NULL};
