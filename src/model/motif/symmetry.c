/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A move is tested stitch by stitch, beginning where the last one failed: the next is likely to fail
 * there at once. Only the stitches that are not in the ground are looked at: where each of them comes to
 * lie on its own yarn, so does the ground.
 */
#include "symmetry.h"

#include "base/arena.h"
#include "base/work.h"

/* Stitches looked at for one kind; a second on a small machine. */
static const int64_t STEPS_MAX = 100000000;

uint8_t symmetry_ground(const struct grid *grid)
{
    int64_t count[256] = {0};
    size_t n = (size_t)grid->nrows * (size_t)grid->ncols;
    uint8_t ground = 0;

    for (size_t i = 0; i < n; i++)
        count[grid->cell[i]]++;
    for (int yarn = 1; yarn < GRID_YARNS_MAX; yarn++)
        if (count[yarn] > count[ground])
            ground = (uint8_t)yarn;
    return ground;
}

struct symmetry symmetry_make(enum symmetry_kind kind, int column, int row)
{
    return (struct symmetry){.kind = kind,
                             .column_is_mirrored = kind == SYMMETRY_ACROSS || kind == SYMMETRY_TURN,
                             .row_is_mirrored = kind == SYMMETRY_UPSIDE || kind == SYMMETRY_TURN,
                             .column = column,
                             .row = row,
                             .times = 2};
}

static int wrapped(int value, int count)
{
    int rest;

    if (value >= 0 && value < count)
        return value;
    rest = value % count;
    return rest < 0 ? rest + count : rest;
}

int symmetry_column(const struct symmetry *symmetry, int column, int ncols)
{
    return wrapped(symmetry->column_is_mirrored ? symmetry->column - column : symmetry->column + column,
                   ncols);
}

int symmetry_row(const struct symmetry *symmetry, int row, int nrows)
{
    return wrapped(symmetry->row_is_mirrored ? symmetry->row - row : symmetry->row + row, nrows);
}

/* What is moved and not mirrored is home after the count, ring or not. */
bool symmetry_partner(const struct symmetry_field *field, const struct symmetry *symmetry, int row,
                      int column, int *partner_row, int *partner_column)
{
    int r = symmetry->row - row, c = symmetry->column - column;

    *partner_row = symmetry_row(symmetry, row, field->grid->nrows);
    *partner_column = symmetry_column(symmetry, column, field->grid->ncols);
    return (!symmetry->row_is_mirrored || field->ring_rows || *partner_row == r) &&
           (!symmetry->column_is_mirrored || field->ring || *partner_column == c);
}

/* --- does a move hold? -------------------------------------------------------------------- */

struct place {
    int16_t row, column; /* GRID_SIDE_MAX is less */
};

struct search {
    const struct symmetry_field *field;
    struct place *listed; /* what is not in the ground */
    int64_t nlisted;
    bool *row_mixed, *column_mixed; /* of several yarns */
    uint32_t *visited;              /* by stitch: the last symmetry it was counted for */
    uint32_t visit;
    int64_t from, steps, steps_max;
    int *row_count, *column_count;  /* stitches not in the ground */
    int64_t *row_off, *column_off;  /* by move of that direction: least_off() */
};

/* Stitches that go to one of another yarn. To the ground counts twice: there another, which is not listed,
 * comes from it. */
static int steps_off(const struct symmetry_field *field, const struct symmetry *tried, struct place at,
                     bool *other)
{
    int row, column;
    uint8_t yarn = grid_at(field->grid, at.row, at.column), partner = field->ground;

    *other = true;
    if (symmetry_partner(field, tried, at.row, at.column, &row, &column)) {
        partner = grid_at(field->grid, row, column);
        *other = row != at.row || column != at.column;
    }
    return partner == yarn ? 0 : partner == field->ground ? 2 : 1;
}

/* Of the stitches that the move brings to one another all but the commonest yarn must change. */
static int64_t orbit_breaks(struct search *search, const struct symmetry *tried, struct place first)
{
    const struct grid *grid = search->field->grid;
    int count[256] = {0}, all = 0, most = 0, row = first.row, column = first.column;
    uint32_t *seen = &search->visited[(size_t)row * (size_t)grid->ncols + (size_t)column];

    while (*seen != search->visit) {
        uint8_t yarn = grid_at(grid, row, column);

        *seen = search->visit;
        all++;
        count[yarn]++;
        most = count[yarn] > most ? count[yarn] : most;
        symmetry_partner(search->field, tried, row, column, &row, &column);
        seen = &search->visited[(size_t)row * (size_t)grid->ncols + (size_t)column];
    }
    search->steps += all;
    return all - most;
}

/* Is the move broken by at most so many? One stitch changed mends two steps off at most, and of moves that are
 * home in two exactly two. */
static bool try_move(struct search *search, struct symmetry *tried, int64_t most_breaks)
{
    int64_t off = 0;
    bool other;

    tried->agreeing = 0;
    for (int64_t i = 0; i < search->nlisted; i++) {
        int64_t k = search->from + i < search->nlisted ? search->from + i
                                                       : search->from + i - search->nlisted;
        struct place at = search->listed[k];
        int steps = steps_off(search->field, tried, at, &other);

        search->steps++;
        off += steps;
        if (off > 2 * most_breaks) {
            search->from = k;
            return false;
        }
        tried->agreeing +=
            steps == 0 && other && search->row_mixed[at.row] && search->column_mixed[at.column];
    }
    tried->breaks = off / 2;
    if (tried->times == 2 || off == 0)
        return true;
    tried->breaks = 0;
    search->visit++;
    for (int64_t i = 0; i < search->nlisted && tried->breaks <= most_breaks; i++)
        tried->breaks += orbit_breaks(search, tried, search->listed[i]);
    return tried->breaks <= most_breaks;
}

/* --- the nearest of a kind ----------------------------------------------------------------- */

static int divisor(int a, int b)
{
    return b == 0 ? a : divisor(b, a % b);
}

/* How many of them lead home. */
static int times_of(const struct symmetry *symmetry, const struct grid *grid)
{
    int up = symmetry->row_is_mirrored ? 2 : grid->nrows / divisor(symmetry->row, grid->nrows);
    int along = symmetry->column_is_mirrored ? 2 : grid->ncols / divisor(symmetry->column, grid->ncols);

    return up / divisor(up, along) * along;
}

/* Which moves of one direction are tried. */
struct span {
    int from, to; /* to is one beyond */
    int part_of;  /* 0: all of them; else those that divide it */
    bool even;    /* and go into it an even number of times; or 0 */
};

static struct span axes(int count, bool ring)
{
    if (ring)
        return (struct span){0, count, 0, false};
    return (struct span){count - 1 - count / 4, count + count / 4, 0, false};
}

static bool in_span(const struct span *span, int move)
{
    if (span->part_of == 0 || (span->even && move == 0))
        return true;
    return move > 0 && span->part_of % move == 0 && (!span->even || span->part_of / move % 2 == 0);
}

/* A glide comes home on the way of one whose move goes into the count an even number of times. */
static struct span glides(int count, bool straight)
{
    return (struct span){0, straight ? 1 : count, count, true};
}

static void spans(const struct symmetry_field *field, enum symmetry_kind kind, bool straight,
                  struct span *rows, struct span *columns)
{
    int nrows = field->grid->nrows, ncols = field->grid->ncols;

    *rows = axes(nrows, field->ring_rows);
    *columns = axes(ncols, field->ring);
    switch (kind) {
    case SYMMETRY_ACROSS:
        *rows = glides(nrows, straight);
        break;
    case SYMMETRY_UPSIDE:
        *columns = glides(ncols, straight || !field->ring);
        break;
    case SYMMETRY_ALONG:
        *rows = (struct span){0, 1, 0, false};
        *columns = (struct span){1, field->ring ? ncols : 1, ncols, false};
        break;
    case SYMMETRY_DROP:
        *rows = (struct span){1, nrows, nrows, false};
        *columns = (struct span){0, field->ring ? ncols : 1, 0, false};
        break;
    case SYMMETRY_TURN:
    case SYMMETRY_KINDS:
        break;
    }
}

/* Without a ring upwards the top must not have to meet the bottom moved along; and lines that go straight up have
 * ends that break no symmetry. */
static bool is_home(const struct symmetry_field *field, const struct symmetry *symmetry)
{
    const struct grid *grid = field->grid;

    return field->ring_rows || symmetry->kind != SYMMETRY_DROP ||
           (symmetry->column > 0 &&
            (int64_t)symmetry->column * (grid->nrows / symmetry->row) % grid->ncols == 0);
}

bool symmetry_next(const struct symmetry_field *field, bool straight, struct symmetry *move)
{
    struct span rows, columns;
    int row, column;

    spans(field, move->kind, straight, &rows, &columns);
    row = move->times == 0 ? rows.from : move->row;
    column = move->times == 0 ? columns.from - 1 : move->column;
    for (; row < rows.to; row++, column = columns.from - 1)
        while (in_span(&rows, row) && ++column < columns.to) {
            move->row = row;
            move->column = column;
            if (!in_span(&columns, column) || !is_home(field, move))
                continue;
            move->times = times_of(move, field->grid);
            return true;
        }
    return false;
}

/* Steps off at the least, by how many stitches the lines have that come to lie on one another; beyond `enough` not
 * counted on. A wrong move mostly need not be looked at stitch by stitch. */
static int64_t least_off(const int *count, int nlines, bool is_mirrored, bool ring, int move, int64_t enough)
{
    int64_t off = 0;

    for (int i = 0; i < nlines && off <= enough; i++) {
        int to = is_mirrored ? move - i : move + i;
        bool inside = to >= 0 && to < nlines;
        int other = inside || ring || !is_mirrored ? count[wrapped(to, nlines)] : 0;

        off += count[i] > other ? count[i] - other : other - count[i];
    }
    return off;
}

static void note_off(struct search *search, enum symmetry_kind kind, const struct span *rows,
                     const struct span *columns, int64_t most)
{
    const struct symmetry_field *field = search->field;
    struct symmetry any = symmetry_make(kind, 0, 0);

    for (int row = rows->from; row < rows->to; row++)
        search->row_off[row] = least_off(search->row_count, field->grid->nrows, any.row_is_mirrored,
                                         field->ring_rows, row, 2 * most);
    for (int column = columns->from; column < columns->to; column++)
        search->column_off[column] = least_off(search->column_count, field->grid->ncols,
                                               any.column_is_mirrored, field->ring, column, 2 * most);
}

static enum symmetry_found best_of(struct search *search, enum symmetry_kind kind,
                                   const struct symmetry_wish *wish, struct symmetry *best)
{
    int64_t most = wish->most_breaks;
    enum symmetry_found found = SYMMETRY_NONE;
    struct span rows, columns;

    spans(search->field, kind, wish->straight, &rows, &columns);
    note_off(search, kind, &rows, &columns, most);
    for (int row = rows.from; row < rows.to; row++)
        for (int column = columns.from; column < columns.to && in_span(&rows, row); column++) {
            struct symmetry tried = symmetry_make(kind, column, row);

            if (!in_span(&columns, column) || !is_home(search->field, &tried) ||
                search->row_off[row] > 2 * most || search->column_off[column] > 2 * most)
                continue;
            if (search->steps > search->steps_max)
                return SYMMETRY_GIVEN_UP;
            tried.times = times_of(&tried, search->field->grid);
            if (!try_move(search, &tried, most))
                continue;
            *best = tried;
            found = SYMMETRY_FOUND;
            if (tried.breaks == 0)
                return found;
            most = tried.breaks - 1;
        }
    return found;
}

static void begin(struct search *search, struct arena *scratch)
{
    const struct grid *grid = search->field->grid;
    size_t nrows = (size_t)grid->nrows, ncols = (size_t)grid->ncols;

    search->row_mixed = arena_alloc(scratch, nrows, sizeof *search->row_mixed);
    search->column_mixed = arena_alloc(scratch, ncols, sizeof *search->column_mixed);
    search->row_count = arena_alloc(scratch, nrows, sizeof *search->row_count);
    search->column_count = arena_alloc(scratch, ncols, sizeof *search->column_count);
    search->row_off = arena_alloc(scratch, 2 * nrows, sizeof *search->row_off); /* an axis may lie beyond */
    search->column_off = arena_alloc(scratch, 2 * ncols, sizeof *search->column_off);
    search->listed = arena_alloc(scratch, nrows * ncols, sizeof *search->listed);
    search->visited = arena_alloc(scratch, nrows * ncols, sizeof *search->visited);
    for (int row = 0; row < grid->nrows; row++)
        for (int column = 0; column < grid->ncols; column++) {
            uint8_t yarn = grid_at(grid, row, column);

            search->row_mixed[row] |= yarn != grid_at(grid, row, 0);
            search->column_mixed[column] |= yarn != grid_at(grid, 0, column);
            if (yarn == search->field->ground)
                continue;
            search->listed[search->nlisted++] = (struct place){(int16_t)row, (int16_t)column};
            search->row_count[row]++;
            search->column_count[column]++;
        }
}

enum symmetry_found symmetry_best(struct work *work, const struct symmetry_field *field,
                                  enum symmetry_kind kind, const struct symmetry_wish *wish,
                                  struct symmetry *best)
{
    int64_t ncells = (int64_t)field->grid->nrows * field->grid->ncols;
    struct search search = {.field = field, .steps_max = wish->steps_max > 0 ? wish->steps_max : STEPS_MAX};
    struct arena *scratch;
    enum symmetry_found found;

    if (ncells > SYMMETRY_CELLS_MAX || ncells == 0)
        return ncells == 0 ? SYMMETRY_NONE : SYMMETRY_GIVEN_UP;
    scratch = arena_branch(work->arena);
    begin(&search, scratch);
    found = best_of(&search, kind, wish, best);
    arena_destroy(scratch);
    return found;
}

/* --- all that hold -------------------------------------------------------------------------- */

/* The same question without a list, so that nothing is allocated. */
struct exact {
    struct symmetry_field field; /* of two rings */
    int64_t from;
};

static bool holds(struct exact *exact, const struct symmetry *symmetry)
{
    const struct grid *grid = exact->field.grid;
    int64_t ncells = (int64_t)grid->nrows * grid->ncols;

    for (int64_t i = 0; i < ncells; i++) {
        int64_t k = exact->from + i < ncells ? exact->from + i : exact->from + i - ncells;
        struct place at = {(int16_t)(k / grid->ncols), (int16_t)(k % grid->ncols)};
        bool other;

        if (grid->cell[k] != exact->field.ground && steps_off(&exact->field, symmetry, at, &other) > 0) {
            exact->from = k;
            return false;
        }
    }
    return true;
}

/* Without a ring upwards top and bottom can be exchanged about the middle of the chart, or of its halves. */
static bool may_hold(const struct grid *grid, bool rows_are_ring, const struct symmetry *move)
{
    switch (move->kind) {
    case SYMMETRY_ALONG:
        return move->column > 0 && grid->ncols % move->column == 0;
    case SYMMETRY_DROP:
        return move->row > 0 && grid->nrows % move->row == 0;
    case SYMMETRY_UPSIDE:
    case SYMMETRY_TURN:
        return rows_are_ring || move->row == grid->nrows - 1 || 2 * (move->row + 1) == grid->nrows;
    case SYMMETRY_ACROSS:
    case SYMMETRY_KINDS:
        break;
    }
    return true;
}

/* The first of a kind within so many rows and columns: the least move, or the mirror from the middle of the chart on, which
 * is where a knitter looks for it. Of those top to bottom one not moved along comes before any that is. */
static bool find_first(struct exact *exact, enum symmetry_kind kind, bool rows_are_ring, int rise, int period,
                       struct symmetry *found)
{
    const struct grid *grid = exact->field.grid;

    for (int64_t i = 0; i < (int64_t)rise * period; i++) {
        int r = (int)(kind == SYMMETRY_UPSIDE ? i % rise : i / period);
        int c = (int)(kind == SYMMETRY_UPSIDE ? i / rise : i % period);

        *found = symmetry_make(kind, c, r);
        if (found->column_is_mirrored)
            found->column = grid->ncols - 1 - c;
        if (found->row_is_mirrored)
            found->row = grid->nrows - 1 - r;
        if (may_hold(grid, rows_are_ring, found) && holds(exact, found))
            return true;
    }
    return false;
}

int symmetry_generators(const struct grid *grid, bool rows_are_ring,
                        struct symmetry found[SYMMETRY_GENERATORS_MAX])
{
    struct exact exact = {.field = {grid, true, true, symmetry_ground(grid)}};
    int n = 0, moves, period = grid->ncols, rise = grid->nrows;

    if (find_first(&exact, SYMMETRY_ALONG, rows_are_ring, 1, period, &found[n]))
        period = found[n++].column;
    if (find_first(&exact, SYMMETRY_DROP, rows_are_ring, rise, period, &found[n]))
        rise = found[n++].row;
    moves = n;
    n += find_first(&exact, SYMMETRY_ACROSS, rows_are_ring, rise, period, &found[n]);
    n += find_first(&exact, SYMMETRY_UPSIDE, rows_are_ring, grid->nrows, period, &found[n]);
    if (n == moves)
        n += find_first(&exact, SYMMETRY_TURN, rows_are_ring, grid->nrows, period, &found[n]);
    for (int i = 0; i < n; i++)
        found[i].times = times_of(&found[i], grid);
    return n;
}

static bool columns_alike(const struct grid *grid, int one, int other)
{
    for (int row = 0; row < grid->nrows; row++)
        if (grid_at(grid, row, one) != grid_at(grid, row, other))
            return false;
    return true;
}

static bool mirrors_about(const struct grid *grid, const uint64_t *sum, int axis)
{
    int n = grid->ncols;

    for (int c = 0; c < n; c++)
        if (sum[c] != sum[(axis % n - c + n) % n])
            return false;
    for (int c = 0; c < n; c++)
        if (!columns_alike(grid, c, (axis % n - c + n) % n))
            return false;
    return true;
}

int symmetry_next_mirror(struct work *work, const struct grid *grid, int from)
{
    struct arena *scratch = arena_branch(work->arena);
    uint64_t *sum = arena_alloc(scratch, (size_t)grid->ncols, sizeof *sum);
    int found = -1;

    for (int row = 0; row < grid->nrows; row++)
        for (int c = 0; c < grid->ncols; c++)
            sum[c] = (sum[c] ^ grid_at(grid, row, c)) * UINT64_C(1099511628211) + 1;
    for (int axis = from; axis < from + grid->ncols && found < 0; axis++)
        if (mirrors_about(grid, sum, axis))
            found = axis;
    arena_destroy(scratch);
    return found;
}
