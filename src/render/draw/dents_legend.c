/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The words of a map of close catches: what every mark of it is, and what to do about it.
 */
#include "dents_parts.h"

static const struct sheet_shade INK = {0, 0, 0}, BAR_INK = {150, 150, 150};

const char *draw_dents_words(const struct drawing *drawing)
{
    const struct plan_crowding *crowding = &drawing->band->crowding;
    const struct page *page = &drawing->page;
    const char *alone =
        drawing->dents->npairs == 0 ? " No catch stands on or right beside another." : "";

    if (crowding->most == 0)
        return "No float is long enough to be caught here: no catches, so nothing to dent.";
    if (crowding->most < crowding->step[0])
        return words_format(page, "Nothing crowded: at most %s within %s of one stitch.%s",
                            words_count(page, crowding->most, "catch", "catches"),
                            words_length(page, crowding->within_in), alone);
    return words_format(page, "Closest together: %s%s", words_crowding(page, drawing->band), alone);
}

/* "3 pairs in a repeat, 252 in the band" */
static const char *pair_counts(const struct drawing *drawing, enum dent_kind kind)
{
    const struct page *page = &drawing->page;
    int64_t once = drawing->dents->once[kind], whole = drawing->dents->whole[kind];

    if (drawing->band->outer)
        return words_format(page, "%s in the band", words_grouped(page, whole));
    if (once == whole)
        return words_grouped(page, once);
    return words_format(page, "%s in a repeat, %s in the band", words_grouped(page, once),
                        words_grouped(page, whole));
}

/* Nothing better can be had, by hand neither: then she is not sent to look for it. */
static bool no_room(const struct plan_band *band)
{
    return band->ntight > 0 ||
           (band->placed_best && band->proof.proven);
}

static const char *pair_words(const struct drawing *drawing, enum dent_kind kind)
{
    const struct page *page = &drawing->page;
    const char *counts = pair_counts(drawing, kind);
    bool tight = no_room(drawing->band);

    switch (kind) {
    case DENT_STACKED:
        return words_format(page,
                            "one stands on the other (%s): the fabric may dent here. %s", counts,
                            tight ? "No room to stagger: catch them loosely, or change the chart"
                                  : "Catch one of them elsewhere, or change the chart");
    case DENT_DOUBLED:
        return words_format(page,
                            "two strands behind one stitch (%s): a lump. %s", counts,
                            tight ? "No room to part them: catch them loosely, or change the chart"
                                  : "Catch one of them a stitch further");
    case DENT_TOUCHING:
        return words_format(page,
                            "one column apart in the next %s (%s): shows a little. Catch "
                            "them loosely",
                            words_round(page), counts);
    case DENT_NEAR:
    case DENT_KINDS:
        break;
    }
    return words_format(page,
                        "two columns apart in the next %s (%s): nearer than the stagger you "
                        "asked for",
                        words_round(page), counts);
}

/* Two dots and what joins them, on an entry of the legend. */
static void put_pair_sample(struct drawing *drawing, enum dent_kind kind, double x, double y)
{
    double size = 0.66 * DRAW_SAMPLE_MM;
    double low = y + 0.76 * DRAW_SAMPLE_MM, high = y + 0.2 * DRAW_SAMPLE_MM;
    double across = kind == DENT_TOUCHING ? size / 2 : kind == DENT_NEAR ? size : 0;
    struct sheet_item *path = dents_kind_path(drawing->sheet, kind, size);
    struct sheet_item *dots;

    x += DRAW_SAMPLE_ROOM_MM / 2 - 1;
    if (kind == DENT_DOUBLED) {
        dents_add_dot(drawing->sheet, path, x, y + DRAW_SAMPLE_MM / 2);
        dots = dents_dot_path(drawing->sheet, false, size);
        dents_add_dot(drawing->sheet, dots, x, y + DRAW_SAMPLE_MM / 2);
        return;
    }
    dents_add_line(drawing->sheet, path, x - across, low, x + across, high);
    dots = dents_dot_path(drawing->sheet, false, size);
    dents_add_dot(drawing->sheet, dots, x - across, low);
    dents_add_dot(drawing->sheet, dots, x + across, high);
}

static int count_edge(const struct dents *dents)
{
    int edge = 0;

    for (int i = 0; i < dents->nmarks; i++)
        edge += dents->mark[i].edge;
    return edge;
}

static void list_dots(struct shelf *shelf)
{
    struct drawing *drawing = shelf->drawing;
    int edge = count_edge(drawing->dents);
    double size = DRAW_SAMPLE_MM, middle = DRAW_SAMPLE_ROOM_MM / 2 - 1, x, y;

    if (drawing->dents->nmarks > edge &&
        shelf_entry(shelf, "a catch behind this stitch", &x, &y))
        dents_add_dot(drawing->sheet, dents_dot_path(drawing->sheet, false, 0.8 * size), x + middle,
                y + size / 2);
    if (edge > 0 &&
        shelf_entry(shelf, "hollow: only in the repeat beside an edge", &x, &y))
        dents_add_dot(drawing->sheet, dents_dot_path(drawing->sheet, true, 0.8 * size), x + middle,
                y + size / 2);
}

static void list_empty(struct shelf *shelf)
{
    double x, y;

    if (shelf->drawing->seen_empty && shelf_entry(shelf, "no stitch: pass over it", &x, &y))
        draw_empty_sample(shelf->drawing, x + 4, y, DRAW_SAMPLE_MM, DRAW_SAMPLE_MM);
}

static void list_pairs(struct shelf *shelf)
{
    double x, y;

    for (int k = 0; k < DENT_KINDS; k++) {
        enum dent_kind kind = (enum dent_kind)k;

        if (shelf->drawing->dents->once[k] > 0 &&
            shelf_entry(shelf, pair_words(shelf->drawing, kind), &x, &y))
            put_pair_sample(shelf->drawing, kind, x, y);
    }
}

static const char *steps_words(const struct drawing *drawing)
{
    const struct plan_crowding *crowding = &drawing->band->crowding;
    const struct page *page = &drawing->page;
    bool beyond = crowding->most > crowding->step[2];
    int64_t first = dents_shown_step(crowding, 0), second = dents_shown_step(crowding, 1);
    int64_t third = dents_shown_step(crowding, 2);

    return words_format(page, "grey: %s, %s, or %s%s catches within %s all round%s",
                        words_range(page, first, second - 1), words_range(page, second, third - 1),
                        beyond ? words_range(page, third, crowding->most)
                               : words_grouped(page, third),
                        beyond ? "" : " and more",
                        words_length(page, crowding->within_in),
                        beyond ? words_format(page, "; crowded from %s on",
                                              words_grouped(page, crowding->step[2]))
                               : "");
}

static void list_steps(struct shelf *shelf)
{
    struct drawing *drawing = shelf->drawing;
    double width = (DRAW_SAMPLE_ROOM_MM - 2) / 3, x, y;

    if (drawing->band->crowding.most < drawing->band->crowding.step[0] ||
        !shelf_entry(shelf, steps_words(drawing), &x, &y))
        return;
    for (int step = 0; step < 3; step++) {
        struct sheet_item *box = dents_bars_path(drawing->sheet, dents_crowded_shade(step), NULL);

        sheet_box(drawing->sheet, box, x + step * width, y, width, DRAW_SAMPLE_MM);
    }
}

static void list_closest(struct shelf *shelf)
{
    struct drawing *drawing = shelf->drawing;
    const struct plan_crowding *crowding = &drawing->band->crowding;
    const struct page *page = &drawing->page;
    double x, y;

    if (dents_has_closest(drawing) &&
        shelf_entry(shelf,
                    words_format(page, "ring: closest together, %s within %s of its middle",
                                 words_count(page, crowding->most, "catch", "catches"),
                                 words_length(page, crowding->within_in)),
                    &x, &y))
        dents_add_ring(drawing->sheet, dents_closest_path(drawing->sheet),
                       x + DRAW_SAMPLE_ROOM_MM / 2 - 1, y + DRAW_SAMPLE_MM / 2,
                       0.45 * DRAW_SAMPLE_MM);
}

static void list_bars(struct shelf *shelf)
{
    struct drawing *drawing = shelf->drawing;
    const struct dents *dents = drawing->dents;
    const struct plan_crowding *crowding = &drawing->band->crowding;
    const struct page *page = &drawing->page;
    double x, y;

    if (shelf_entry(shelf,
                    words_format(page,
                                 "bars: catches of each column, once upwards (below), "
                                 "and of each whole %s (left)",
                                 words_round(page)),
                    &x, &y))
        sheet_box(drawing->sheet, dents_bars_path(drawing->sheet, BAR_INK, NULL), x + 4, y, 3,
                  DRAW_SAMPLE_MM);
    if (dents->most_in_column >= dents->ridge_from &&
        shelf_entry(shelf,
                    words_format(page,
                                 "black: %s or more in one column, which is %s times the mean "
                                 "of all columns and no fewer than %s, may show as a ridge "
                                 "upwards. %s",
                                 words_grouped(page, dents->ridge_from),
                                 words_decimal(page, crowding->ridge_ratio, 1),
                                 words_grouped(page, crowding->ridge_least),
                                 no_room(drawing->band)
                                     ? "Catch them loosely, or change the chart"
                                     : "Shift some of them by hand"),
                    &x, &y))
        sheet_box(drawing->sheet, dents_bars_path(drawing->sheet, INK, NULL), x + 4, y, 3,
                  DRAW_SAMPLE_MM);
}

void draw_dents_list(struct shelf *shelf)
{
    const struct dents *dents = shelf->drawing->dents;

    if (dents->nmarks == 0)
        return;
    list_dots(shelf);
    list_pairs(shelf);
    list_steps(shelf);
    list_closest(shelf);
    list_bars(shelf);
    list_empty(shelf);
}
