/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A slip is one edit of the list of rows. Each is undone in turn, and every move is held against the chart as it
 * would have been; where one is kept, it is judged whether that is evidence, and whether the chart may be meant
 * as it stands.
 */
#include "row_slip.h"

#include <string.h>

#include "base/arena.h"
#include "base/work.h"

enum { STEPS_MAX = 50000000, FOUND_MAX = 24, BROKEN_MAX = 6, NEAR_MAX = 1000, NONE = -2 };

struct row_found {
    struct row_slip slip;
    bool doubtful; /* as good as any, but as likely meant: a border in its own place, an edge */
    const uint8_t *cell; /* the chart mended */
};

struct row_search {
    struct work *work;
    struct arena *scratch;
    const struct symmetry_field *field; /* as the chart stands */
    const struct row_slip_rule *rule;
    bool open[SYMMETRY_KINDS]; /* no symmetry of it holds, or is broken by a stitch or two */
    int period;                /* the chart repeats itself every so many stitches */
    /* the chart mended */
    struct symmetry_field tried;
    struct grid grid;
    uint8_t *cell;
    uint64_t *sum; /* by row of it: sum_row() */
    uint64_t *charted_sum; /* by row of the chart */
    int put_in;    /* the row put in, of which nothing is known yet; NONE */
    int failed;    /* the row where the last move failed */
    struct symmetry *first;         /* of each kind that is open, and each row: the first move that is tried */
    int nfirst;
    struct symmetry near[NEAR_MAX]; /* as charted: moves that few rows miss */
    int nnear;                      /* -1: not known, or too many: all are tried */
    int64_t steps;
    struct row_found found[FOUND_MAX];
    int nfound;
    bool too_many;
};

/* --- does a move hold? ------------------------------------------------------------------------- */

static uint8_t *row_of(const struct row_search *search, int row)
{
    return search->cell + (size_t)row * (size_t)search->grid.ncols;
}

static const uint8_t *charted(const struct row_search *search, int row)
{
    return search->field->grid->cell + (size_t)row * (size_t)search->grid.ncols;
}

static bool alike(const uint8_t *row, const uint8_t *other, int ncols)
{
    return memcmp(row, other, (size_t)ncols) == 0;
}

/* The row that a row is brought to; -1: outside. */
static int partner_of(const struct symmetry_field *field, const struct symmetry *move, int row)
{
    int to = symmetry_row(move, row, field->grid->nrows);

    return move->row_is_mirrored && !field->ring_rows && to != move->row - row ? -1 : to;
}

/* The same for a row moved along or mirrored; 0 in the ground. Rows of unlike sums are no partners by any move. */
static void sum_row(struct row_search *search, int row)
{
    const uint8_t *cell = row_of(search, row);
    int ncols = search->grid.ncols, beyond = search->field->ring ? 0 : 1;
    uint8_t ground = search->field->ground;

    search->sum[row] = 0;
    search->steps += ncols;
    for (int i = -beyond; i < ncols + beyond; i++) {
        uint8_t here = i >= 0 && i < ncols ? cell[i] : ground;
        uint8_t left = i + 1 < ncols ? cell[i + 1] : beyond ? ground : cell[0];
        uint8_t right = i > 0 ? cell[i - 1] : beyond ? ground : cell[ncols - 1];
        uint64_t both = left < right ? (uint64_t)left << 8 | right : (uint64_t)right << 8 | left;

        if (here != ground || left != ground || right != ground)
            search->sum[row] += ((uint64_t)here << 16 | both) * UINT64_C(0x9E3779B97F4A7C15) >> 20;
    }
}

/* Does every stitch of the row go to one of its yarn? */
static bool row_agrees(struct row_search *search, const struct symmetry *move, int row)
{
    for (int column = 0; column < search->grid.ncols && search->sum[row] != 0; column++) {
        int r, c;
        uint8_t wanted = symmetry_partner(&search->tried, move, row, column, &r, &c) ? row_of(search, r)[c]
                                                                                     : search->field->ground;

        search->steps++;
        if (row_of(search, row)[column] != wanted)
            return false;
    }
    return true;
}

/* Do all rows go to rows of the same sum, or (whole) to the very same? Asked first where the last move failed. but: a
 * row of which nothing is known. */
static bool rows_agree(struct row_search *search, const struct symmetry *move, int but, bool whole)
{
    int nrows = search->grid.nrows;

    for (int i = 0; i < nrows; i++) {
        int row = search->failed + i < nrows ? search->failed + i : search->failed + i - nrows;
        int to = partner_of(&search->tried, move, row);

        search->steps++;
        if (row == but || to == but ||
            (search->sum[row] == (to < 0 ? 0 : search->sum[to]) && (!whole || row_agrees(search, move, row))))
            continue;
        search->failed = row;
        return false;
    }
    return true;
}

/* The row put in is made so that it goes with its partner. */
static bool fill_in(struct row_search *search, const struct symmetry *move)
{
    int own = search->put_in, r, c;

    for (int column = 0; column < search->grid.ncols; column++) {
        if (!symmetry_partner(&search->tried, move, own, column, &r, &c) || r == own)
            return false;
        row_of(search, own)[column] = row_of(search, r)[c];
    }
    sum_row(search, own);
    return true;
}

static bool keeps(struct row_search *search, const struct symmetry *move)
{
    return rows_agree(search, move, search->put_in, true) &&
           (search->put_in < 0 || (fill_in(search, move) && rows_agree(search, move, NONE, true)));
}

/* --- is that evidence? ------------------------------------------------------------------------- */

static bool is_mixed(const uint8_t *cell, int count, int step)
{
    for (int i = 1; i < count; i++)
        if (cell[(size_t)i * (size_t)step] != cell[0])
            return true;
    return false;
}

/* The least part of a row that makes it up. */
static int period_of(const uint8_t *cell, int count)
{
    for (int period = 1; period < count; period++)
        if (count % period == 0 && alike(cell, cell + period, count - period))
            return period;
    return count;
}

bool row_slip_concerns(const struct row_slip *slip, const struct symmetry_field *mended, int row)
{
    for (int own = slip->row; own <= slip->row + (slip->kind == ROW_SWAPPED); own++)
        if (row == own || partner_of(mended, &slip->symmetry, row) == own ||
            partner_of(mended, &slip->symmetry, own) == row)
            return true;
    return false;
}

/* Is no row under it the same? Rows that are alike say the same, but where they are copies. */
static bool is_first(const struct row_search *search, int row)
{
    for (int under = 0; under < row; under++)
        if (alike(row_of(search, under), row_of(search, row), search->grid.ncols))
            return false;
    return true;
}

static void count_agreeing(struct row_search *search, struct row_slip *slip)
{
    const struct grid *grid = &search->grid;
    bool *mixed = arena_alloc(search->scratch, (size_t)grid->ncols, sizeof *mixed);

    for (int column = 0; column < grid->ncols; column++)
        mixed[column] = is_mixed(search->cell + column, grid->nrows, grid->ncols);
    for (int row = 0; row < grid->nrows; row++) {
        int agreeing = 0;

        if (row_slip_concerns(slip, &search->tried, row) || !is_mixed(row_of(search, row), grid->ncols, 1))
            continue;
        for (int column = 0; column < grid->ncols; column++) {
            int r, c;

            agreeing += row_of(search, row)[column] != search->field->ground && mixed[column] &&
                        symmetry_partner(&search->tried, &slip->symmetry, row, column, &r, &c) &&
                        (r != row || c != column);
        }
        slip->agreeing += agreeing;
        slip->rows += agreeing > 0 && (slip->symmetry.kind == SYMMETRY_DROP || is_first(search, row));
    }
}

/* Rows that repeat a few stitches many times, or all in the pattern's yarn, stand as they like. */
static bool is_border(const struct row_search *search, int row)
{
    int period = period_of(row_of(search, row), search->grid.ncols);

    return (period > 1 || row_of(search, row)[0] != search->field->ground) &&
           period * search->rule->whole <= search->period;
}

static bool is_plain(const struct row_search *search, int row)
{
    return !is_mixed(row_of(search, row), search->grid.ncols, 1);
}

/* Of the rows that are as this one, up to an edge that nobody knows what lies beyond; or plain rows
 * beside a border, which set it off as they like. */
static bool is_spacing(const struct row_search *search, int row)
{
    int low = row, high = row + 1, nrows = search->grid.nrows, ncols = search->grid.ncols;

    while (low > 0 && alike(row_of(search, low - 1), row_of(search, row), ncols))
        low--;
    while (high < nrows && alike(row_of(search, high), row_of(search, row), ncols))
        high++;
    if (!search->field->ring_rows && (low == 0 || high == nrows))
        return true;
    return is_plain(search, row) &&
           (is_border(search, (low + nrows - 1) % nrows) || is_border(search, high % nrows));
}

static bool is_doubtful(const struct row_search *search, const struct row_slip *slip)
{
    int row = slip->row;

    switch (slip->kind) {
    case ROW_SHIFTED:
    case ROW_EXCHANGED:
        return (slip->symmetry.kind != SYMMETRY_ACROSS || slip->symmetry.row != 0) && is_border(search, row);
    case ROW_SWAPPED:
        return (is_plain(search, row) || is_border(search, row)) &&
               (is_plain(search, row + 1) || is_border(search, row + 1));
    case ROW_MISSING:
    case ROW_DOUBLED:
        return is_border(search, row) || is_spacing(search, row);
    }
    return false;
}

static int count_kinds(const struct row_search *search)
{
    int kinds = 0;

    for (int kind = 0; kind < SYMMETRY_KINDS; kind++) {
        struct symmetry_wish wish = {.most_breaks = 0};
        struct symmetry best;

        kinds += symmetry_best(search->work, &search->tried, (enum symmetry_kind)kind, &wish,
                               &best) == SYMMETRY_FOUND;
    }
    return kinds;
}

static bool is_enough(const struct row_slip_rule *rule, const struct row_slip *slip)
{
    bool counted = slip->kind == ROW_MISSING || slip->kind == ROW_DOUBLED;

    return slip->agreeing >= rule->agreeing &&
           slip->rows >= (counted ? rule->rows_counted : rule->rows);
}

/* Of several symmetries that vouch, a mirror is the easiest to see. */
static void vouch_again(const struct row_slip_rule *rule, struct row_slip *known, const struct row_slip *slip)
{
    if (is_enough(rule, slip) && slip->symmetry.kind == SYMMETRY_UPSIDE && slip->symmetry.column == 0 &&
        known->symmetry.kind != SYMMETRY_ACROSS) {
        known->symmetry = slip->symmetry;
        known->agreeing = slip->agreeing;
        known->rows = slip->rows;
    }
}

/* The chart mended keeps a move: what vouches for that is noted. */
static void judge(struct row_search *search, struct row_slip slip)
{
    size_t ncells = (size_t)search->grid.nrows * (size_t)search->grid.ncols;
    uint8_t *cell;

    if (search->too_many)
        return;
    slip.nrows = search->grid.nrows;
    count_agreeing(search, &slip);
    search->steps += 4 * (int64_t)ncells;
    for (int i = 0; i < search->nfound; i++)
        if (search->found[i].slip.nrows == slip.nrows && memcmp(search->found[i].cell, search->cell, ncells) == 0) {
            vouch_again(search->rule, &search->found[i].slip, &slip);
            return;
        }
    if (search->nfound == FOUND_MAX) {
        search->too_many = true;
        return;
    }
    slip.kinds = count_kinds(search);
    cell = arena_alloc(search->scratch, ncells, 1);
    memcpy(cell, search->cell, ncells);
    search->found[search->nfound++] = (struct row_found){slip, is_doubtful(search, &slip), cell};
}

/* --- each slip undone ------------------------------------------------------------------------- */

/* Slips of two rows concern those before and after them: a move that more rows miss cannot be mended by one. */
static bool is_near(struct row_search *search, const struct symmetry *move, bool whole)
{
    int missed = 0;

    for (int row = 0; row < search->grid.nrows && missed <= BROKEN_MAX; row++) {
        int to = partner_of(&search->tried, move, row);

        search->steps++;
        missed += search->sum[row] != (to < 0 ? 0 : search->sum[to]) || (whole && !row_agrees(search, move, row));
    }
    return missed <= BROKEN_MAX;
}

static void list_first(struct row_search *search)
{
    search->nfirst = 0;
    for (int kind = 0; kind < SYMMETRY_KINDS; kind++) {
        struct symmetry move = symmetry_make((enum symmetry_kind)kind, 0, 0);

        move.times = 0;
        while (search->open[kind] && symmetry_next(&search->tried, false, &move)) {
            search->first[search->nfirst++] = move;
            move.column = 2 * GRID_SIDE_MAX; /* on to the next row */
        }
    }
}

/* The next of the same row. */
static bool next_column(const struct row_search *search, struct symmetry *move)
{
    int row = move->row;

    return symmetry_next(&search->tried, false, move) && move->row == row;
}

static void list_near(struct row_search *search)
{
    search->nnear = 0;
    for (int i = 0; i < search->nfirst && search->nnear >= 0; i++) {
        struct symmetry move = search->first[i];

        if (!is_near(search, &move, false))
            continue;
        do {
            if (is_near(search, &move, true) && search->nnear < NEAR_MAX)
                search->near[search->nnear++] = move;
            else if (search->nnear == NEAR_MAX)
                search->nnear = -1;
        } while (search->nnear >= 0 && next_column(search, &move));
    }
}

static void try_move(struct row_search *search, struct row_slip slip, const struct symmetry *move)
{
    if (!keeps(search, move))
        return;
    slip.symmetry = *move;
    slip.like = partner_of(&search->tried, move, slip.row) - 1; /* of a row put in, in the chart as it stands */
    slip.like += slip.like < slip.row;
    judge(search, slip);
}

/* Every move, whole rows first. A mirror left to right asks each row by itself: in it but a shift changes nothing. */
static void try_moves(struct row_search *search, struct row_slip slip)
{
    for (int i = 0; i < search->nnear; i++)
        if (slip.kind == ROW_SHIFTED || search->near[i].kind != SYMMETRY_ACROSS || search->near[i].row != 0)
            try_move(search, slip, &search->near[i]);
    for (int i = 0; i < search->nfirst && search->nnear < 0 && search->steps < STEPS_MAX; i++) {
        struct symmetry move = search->first[i];

        search->steps += 4;
        if ((move.kind == SYMMETRY_ACROSS && move.row == 0 && slip.kind != ROW_SHIFTED) ||
            !rows_agree(search, &move, search->put_in, false))
            continue;
        do {
            search->steps += 4;
            try_move(search, slip, &move);
        } while (search->steps < STEPS_MAX && next_column(search, &move));
    }
}

/* Rows of the chart, from the first on, as the rows from there on of the one mended. */
static void copy_rows(struct row_search *search, int to, int from, int nrows)
{
    size_t n = (size_t)nrows;

    search->steps += (int64_t)nrows * search->grid.ncols;
    memcpy(row_of(search, to), charted(search, from), n * (size_t)search->grid.ncols);
    memcpy(search->sum + to, search->charted_sum + from, n * sizeof *search->sum);
}

/* With so many rows changed, then as charted again. */
static void try_changed(struct row_search *search, int nrows, struct row_slip slip)
{
    for (int i = 0; i < nrows; i++)
        sum_row(search, slip.row + i);
    try_moves(search, slip);
    copy_rows(search, slip.row, slip.row, nrows);
}

/* Back by a stitch; what comes in is the one that went out, or any other that the row has. */
static void undo_shift(struct row_search *search, int row, int stands)
{
    int ncols = search->grid.ncols, end = stands > 0 ? ncols - 1 : 0;
    const uint8_t *was = charted(search, row);
    bool seen[256] = {false};

    for (int i = -1; i < ncols; i++) {
        uint8_t comes = was[i < 0 ? ncols - 1 - end : i];

        if (seen[comes])
            continue;
        seen[comes] = true;
        memmove(row_of(search, row) + (stands < 0), was + (stands > 0), (size_t)(ncols - 1));
        row_of(search, row)[end] = comes;
        try_changed(search, 1, (struct row_slip){.kind = ROW_SHIFTED, .row = row, .column = stands});
    }
}

static void undo_exchange(struct row_search *search, int row)
{
    int ncols = search->grid.ncols, other = 1, i = 0;
    const uint8_t *was = charted(search, row);
    struct row_slip slip = {.kind = ROW_EXCHANGED, .row = row};

    while (other < ncols - 1 && was[other] == was[0])
        other++;
    slip.yarn[0] = was[0];
    slip.yarn[1] = was[other];
    while (i < ncols && (was[i] == slip.yarn[0] || was[i] == slip.yarn[1]))
        i++;
    if (i < ncols)
        return; /* three yarns and more */
    for (i = 0; i < ncols; i++)
        row_of(search, row)[i] = slip.yarn[was[i] == slip.yarn[0]];
    try_changed(search, 1, slip);
}

static void undo_swap(struct row_search *search, int row)
{
    size_t ncols = (size_t)search->grid.ncols;

    memcpy(row_of(search, row), charted(search, row + 1), ncols);
    memcpy(row_of(search, row + 1), charted(search, row), ncols);
    try_changed(search, 2, (struct row_slip){.kind = ROW_SWAPPED, .row = row});
}

/* The last of those from there up that are the same; the row itself where it is not their first. */
static int last_alike(const struct row_search *search, int row)
{
    int last = row, ncols = search->grid.ncols;

    if (row > 0 && alike(charted(search, row), charted(search, row - 1), ncols))
        return row;
    while (last + 1 < search->field->grid->nrows &&
           alike(charted(search, row), charted(search, last + 1), ncols))
        last++;
    return last;
}

static void set_rows(struct row_search *search, int nrows, int put_in)
{
    search->grid = (struct grid){nrows, search->field->grid->ncols, search->cell};
    search->tried = *search->field;
    search->tried.grid = &search->grid;
    search->put_in = put_in;
    search->failed = 0;
    search->nnear = -1;
    list_first(search);
}

static void undo_within(struct row_search *search, int nrows)
{
    set_rows(search, nrows, NONE);
    copy_rows(search, 0, 0, nrows);
    list_near(search);
    for (int row = 0; row < nrows && search->nnear != 0; row++) {
        undo_shift(search, row, 1);
        undo_shift(search, row, -1);
        if (is_mixed(charted(search, row), search->grid.ncols, 1))
            undo_exchange(search, row);
        if (row + 1 < nrows && !alike(charted(search, row), charted(search, row + 1), search->grid.ncols))
            undo_swap(search, row);
    }
}

static void undo_missing(struct row_search *search, int nrows)
{
    set_rows(search, nrows + 1, 0);
    copy_rows(search, 1, 0, nrows);
    for (int row = 0; row <= nrows - search->field->ring_rows; row++) {
        search->put_in = row;
        try_moves(search, (struct row_slip){.kind = ROW_MISSING, .row = row});
        if (row < nrows)
            copy_rows(search, row, row, 1);
    }
}

static void undo_doubled(struct row_search *search, int nrows)
{
    set_rows(search, nrows - 1, NONE);
    copy_rows(search, 0, 1, nrows - 1);
    for (int row = 0; row + 1 < nrows; row++) {
        int last = last_alike(search, row);

        if (last > row)
            try_moves(search, (struct row_slip){.kind = ROW_DOUBLED, .row = row, .last = last});
        copy_rows(search, row, row, 1);
    }
}

/* --- all of it --------------------------------------------------------------------------------- */

static bool note_open(struct row_search *search)
{
    bool any = false;

    for (int kind = 0; kind < SYMMETRY_KINDS; kind++) {
        struct symmetry_wish wish = {.most_breaks = search->rule->breaks - 1};
        struct symmetry best;

        if (kind == SYMMETRY_ALONG) /* no slip of a whole row breaks it */
            continue;
        search->open[kind] = symmetry_best(search->work, search->field, (enum symmetry_kind)kind,
                                           &wish, &best) == SYMMETRY_NONE;
        any = any || search->open[kind];
    }
    return any;
}

static void begin(struct row_search *search)
{
    const struct grid *grid = search->field->grid;

    search->cell = arena_alloc(search->scratch, ((size_t)grid->nrows + 1) * (size_t)grid->ncols, 1);
    search->sum = arena_alloc(search->scratch, (size_t)grid->nrows + 1, sizeof *search->sum);
    search->charted_sum = arena_alloc(search->scratch, (size_t)grid->nrows, sizeof *search->charted_sum);
    search->first = arena_alloc(search->scratch, 2 * SYMMETRY_KINDS * ((size_t)grid->nrows + 1), sizeof *search->first);
    set_rows(search, grid->nrows, NONE);
    memcpy(search->cell, grid->cell, (size_t)grid->nrows * (size_t)grid->ncols);
    for (int row = 0; row < grid->nrows; row++)
        sum_row(search, row);
    memcpy(search->charted_sum, search->sum, (size_t)grid->nrows * sizeof *search->sum);
    search->steps = 0;
    search->period = 1;
    for (int row = 0; row < grid->nrows; row++) {
        int period = period_of(charted(search, row), grid->ncols), multiple = search->period;

        while (multiple % period != 0)
            multiple += search->period;
        search->period = multiple;
    }
}

/* What was not searched to the end says nothing. Given: how many were found before. */
static void close_search(struct row_search *search, int before)
{
    if (search->steps >= STEPS_MAX)
        search->nfound = before;
    search->steps = 0;
}

/* Those after which most kinds of symmetry hold: none, where one is as likely meant; of two that which is vouched
 * for enough first. */
static int choose(const struct row_search *search, struct row_slip slips[ROW_SLIPS_MAX])
{
    int most = 0, count = 0;
    bool enough = false;

    for (int i = 0; i < search->nfound; i++)
        most = search->found[i].slip.kinds > most ? search->found[i].slip.kinds : most;
    for (int i = 0; i < search->nfound; i++) {
        if (search->found[i].slip.kinds < most)
            continue;
        if (count == ROW_SLIPS_MAX || search->found[i].doubtful)
            return 0;
        slips[count++] = search->found[i].slip;
    }
    for (int i = 0; i < count && !enough; i++)
        if (is_enough(search->rule, &slips[i])) { /* what is said of both is what vouches for the first */
            struct row_slip best = slips[i];

            slips[i] = slips[0];
            slips[0] = best;
            enough = true;
        }
    return !enough || search->too_many ? 0 : count;
}

int row_slips(struct work *work, const struct symmetry_field *field,
              const struct row_slip_rule *rule, struct row_slip slips[ROW_SLIPS_MAX])
{
    struct row_search search = {.work = work, .field = field, .rule = rule};
    int nrows = field->grid->nrows, count;

    if (nrows < 3 || field->grid->ncols < 3 || !note_open(&search))
        return 0;
    search.scratch = arena_branch(work->arena);
    begin(&search);
    undo_within(&search, nrows);
    close_search(&search, 0);
    count = search.nfound;
    undo_missing(&search, nrows);
    undo_doubled(&search, nrows);
    close_search(&search, count);
    count = choose(&search, slips);
    arena_destroy(search.scratch);
    return count;
}
