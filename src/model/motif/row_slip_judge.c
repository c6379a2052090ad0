/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Is what one change of a row mends evidence of a slip? What vouches for it, and whether it may be
 * meant.
 */
#include "row_slip_parts.h"

#include <string.h>

#include "base/arena.h"
#include "base/work.h"

uint8_t *row_slip_row(struct row_search *search, int row)
{
    return search->cell + (size_t)row * (size_t)search->grid.ncols;
}

int row_slip_partner(const struct symmetry_field *field, const struct symmetry *move, int row)
{
    int to = symmetry_row(move, row, field->grid->nrows);

    return move->row_is_mirrored && !field->ring_rows && to != move->row - row ? -1 : to;
}

static bool is_mixed(const uint8_t *cell, int count, int step)
{
    for (int i = 1; i < count; i++)
        if (cell[(size_t)i * (size_t)step] != cell[0])
            return true;
    return false;
}

int row_slip_period(const uint8_t *cell, int count)
{
    for (int period = 1; period < count; period++)
        if (count % period == 0 && memcmp(cell, cell + period, (size_t)(count - period)) == 0)
            return period;
    return count;
}

/* Is the row one of those changed, or goes to one, or comes from one? */
static bool is_concerned(const struct row_search *search, const struct row_slip *slip,
                         const struct symmetry *move, int row)
{
    int last = slip->kind == ROW_SWAPPED ? slip->row + 1 : slip->row;

    for (int own = slip->row; own <= last; own++)
        if (row == own || row_slip_partner(&search->tried, move, row) == own ||
            row_slip_partner(&search->tried, move, own) == row)
            return true;
    return false;
}

/* Is no row under it the same? Rows that are alike say the same, but where they are copies. */
static bool is_first(struct row_search *search, int row)
{
    for (int under = 0; under < row; under++)
        if (memcmp(row_slip_row(search, under), row_slip_row(search, row),
                   (size_t)search->grid.ncols) == 0)
            return false;
    return true;
}

static void count_agreeing(struct row_search *search, const struct symmetry *move,
                           struct row_slip *slip)
{
    const struct grid *grid = &search->grid;
    bool *mixed = arena_alloc(search->scratch, (size_t)grid->ncols, sizeof *mixed);

    for (int column = 0; column < grid->ncols; column++)
        mixed[column] = is_mixed(search->cell + column, grid->nrows, grid->ncols);
    for (int row = 0; row < grid->nrows; row++) {
        int agreeing = 0;

        if (is_concerned(search, slip, move, row) ||
            !is_mixed(row_slip_row(search, row), grid->ncols, 1))
            continue;
        for (int column = 0; column < grid->ncols; column++) {
            int r, c;

            agreeing += row_slip_row(search, row)[column] != search->field->ground &&
                        mixed[column] &&
                        symmetry_partner(&search->tried, move, row, column, &r, &c) &&
                        (r != row || c != column);
        }
        slip->agreeing += agreeing;
        slip->rows += agreeing > 0 && (move->kind == SYMMETRY_DROP || is_first(search, row));
    }
}

/* Rows that repeat a few stitches many times, or all in the pattern's yarn, stand as they like. */
static bool is_border(const struct row_search *search, const uint8_t *row)
{
    int period = row_slip_period(row, search->grid.ncols);

    return (period > 1 || row[0] != search->field->ground) &&
           period * search->rule->whole <= search->period;
}

static bool is_plain_or_border(const struct row_search *search, const uint8_t *row)
{
    return !is_mixed(row, search->grid.ncols, 1) || is_border(search, row);
}

static bool like_under(struct row_search *search, int row)
{
    return memcmp(row_slip_row(search, row), row_slip_row(search, row - 1),
                  (size_t)search->grid.ncols) == 0;
}

/* Of the rows that are as this one, up to an edge that nobody knows what lies beyond; or plain rows
 * beside a border, which set it off as they like. */
static bool is_spacing(struct row_search *search, int row)
{
    int low = row, high = row + 1, nrows = search->grid.nrows;
    bool ring = search->field->ring_rows;

    while (low > 0 && like_under(search, low))
        low--;
    while (high < nrows && like_under(search, high))
        high++;
    if (!ring && (low == 0 || high == nrows))
        return true;
    return !is_mixed(row_slip_row(search, row), search->grid.ncols, 1) &&
           (is_border(search, row_slip_row(search, (low + nrows - 1) % nrows)) ||
            is_border(search, row_slip_row(search, high % nrows)));
}

static bool is_doubtful(struct row_search *search, const struct symmetry *move,
                        const struct row_slip *slip)
{
    const uint8_t *row = row_slip_row(search, slip->row);

    switch (slip->kind) {
    case ROW_SHIFTED:
    case ROW_EXCHANGED:
        return (move->kind != SYMMETRY_ACROSS || move->row != 0) && is_border(search, row);
    case ROW_SWAPPED:
        return is_plain_or_border(search, row) &&
               is_plain_or_border(search, row + search->grid.ncols);
    case ROW_MISSING:
    case ROW_DOUBLED:
        return is_border(search, row) || is_spacing(search, slip->row);
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

static struct row_slip *find_known(struct row_search *search)
{
    size_t ncells = (size_t)search->grid.nrows * (size_t)search->grid.ncols;

    for (int i = 0; i < search->nfound; i++)
        if (search->found[i].slip.nrows == search->grid.nrows &&
            memcmp(search->found[i].cell, search->cell, ncells) == 0)
            return &search->found[i].slip;
    return NULL;
}

static bool is_enough(const struct row_slip_rule *rule, const struct row_slip *slip)
{
    bool counted = slip->kind == ROW_MISSING || slip->kind == ROW_DOUBLED;

    return slip->agreeing >= rule->agreeing &&
           slip->rows >= (counted ? rule->rows_counted : rule->rows);
}

/* Of several symmetries that vouch, a mirror is the easiest to see. */
static void vouch_again(struct row_search *search, struct row_slip *known,
                        const struct row_slip *slip)
{
    if (is_enough(search->rule, slip) && slip->symmetry.kind == SYMMETRY_UPSIDE &&
        slip->symmetry.column == 0 && known->symmetry.kind != SYMMETRY_ACROSS) {
        known->symmetry = slip->symmetry;
        known->agreeing = slip->agreeing;
        known->rows = slip->rows;
    }
}

void row_slip_judge(struct row_search *search, const struct symmetry *move, struct row_slip slip)
{
    size_t ncells = (size_t)search->grid.nrows * (size_t)search->grid.ncols;
    struct row_slip *known;
    uint8_t *cell;

    if (search->too_many)
        return;
    slip.symmetry = *move;
    slip.nrows = search->grid.nrows;
    count_agreeing(search, move, &slip);
    search->steps += 4 * (int64_t)ncells;
    known = find_known(search);
    if (known) {
        vouch_again(search, known, &slip);
        return;
    }
    if (search->nfound == ROW_FOUND_MAX) {
        search->too_many = true;
        return;
    }
    slip.kinds = count_kinds(search);
    cell = arena_alloc(search->scratch, ncells, 1);
    memcpy(cell, search->cell, ncells);
    search->found[search->nfound++] =
        (struct row_found){slip, is_doubtful(search, move, &slip), cell};
}

int row_slip_choose(const struct row_search *search, struct row_slip slips[ROW_SLIPS_MAX])
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
