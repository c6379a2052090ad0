/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sections.h"

#include "base/work.h"

/* Yarn names as JSON strings, made once: a large chart names them a million times. */
struct quoted_names {
    struct text name[GRID_YARNS_MAX];
    size_t longest;
};

static void quote_names(struct work *work, const struct plan_piece *piece,
                        struct quoted_names *names)
{
    for (int i = 0; i < piece->nyarns && i < GRID_YARNS_MAX; i++) {
        names->name[i] = text_create(work->arena);
        text_json_string(&names->name[i], piece->yarns[i].name);
        if (names->name[i].length > names->longest)
            names->longest = names->name[i].length;
    }
}

/* The most one line of the list below takes, its indent and two numbers included. */
static size_t mark_bytes(const struct quoted_names *names)
{
    return sizeof ",\n        {\"row\": 65536, \"column\": 65536, \"strand\": , \"behind\": }" +
           2 * names->longest;
}

/* Written in pieces that are ready: this is where a large plan spends its time. */
static void write_mark(struct text *out, const struct catch_mark *mark,
                       const struct quoted_names *names)
{
    static const char row[] = "{\"row\": ", column[] = ", \"column\": ",
                      strand[] = ", \"strand\": ", behind[] = ", \"behind\": ";
    const struct text *strand_name = &names->name[mark->strand];
    const struct text *behind_name = &names->name[mark->behind];

    text_add_bytes(out, row, sizeof row - 1);
    text_digits(out, mark->row + 1);
    text_add_bytes(out, column, sizeof column - 1);
    text_digits(out, mark->column + 1);
    text_add_bytes(out, strand, sizeof strand - 1);
    text_add_bytes(out, strand_name->bytes, strand_name->length);
    text_add_bytes(out, behind, sizeof behind - 1);
    text_add_bytes(out, behind_name->bytes, behind_name->length);
    text_add_bytes(out, "}", 1);
}

static void write_marks(struct json *json, const char *key, const struct catch_map *map,
                        const struct quoted_names *names)
{
    int64_t count = map ? map->count : 0;

    text_reserve(json->out, (size_t)count * mark_bytes(names));
    json_array_open(json, key);
    for (int64_t i = 0; i < count; i++) {
        json_value(json, NULL);
        write_mark(json->out, &map->mark[i], names);
    }
    json_array_close(json);
}

static const char *remedy_word(enum fit_kind kind)
{
    switch (kind) {
    case FIT_ANOTHER_COUNT:
        return "another count";
    case FIT_SHAPE:
        return "shape";
    case FIT_PLAIN_COLUMNS:
        return "plain columns";
    case FIT_TRIM_OR_PAD:
        return "trim or pad";
    case FIT_PART_REPEATS:
        return "part repeats";
    case FIT_REDRAW:
        return "redraw";
    case FIT_ANOTHER_GAUGE:
    case FIT_KIND_COUNT:
        break;
    }
    return "another gauge";
}

/* The columns of the chart that are left out or worked twice, from 1. */
static void write_remedy_columns(struct json *json, const struct remake *remake)
{
    json_array_open(json, "columns");
    for (int i = 0; i < remake->ncolumns; i++)
        json_whole(json, NULL, remake->column[i] + 1);
    json_array_close(json);
    json_bool(json, "columns_twice", remake->twice);
}

static void write_remedy_floats(struct json *json, const struct fit_floats *floats)
{
    json_whole_or_null(json, "longest_stitches", floats->longest_sts, floats->known);
    json_whole_or_null(json, "over_limit", floats->over_limit, floats->known);
    json_whole_or_null(json, "catches_fewest", floats->catches_fewest, floats->known);
}

static void write_remedy(struct json *json, const struct fit_remedy *remedy)
{
    json_object_open(json, NULL);
    json_string(json, "kind", remedy_word(remedy->kind));
    json_string(json, "word", remedy->word);
    json_whole(json, "stitches", remedy->stitches);
    json_whole(json, "repeats", remedy->repeats);
    json_whole(json, "repeat_stitches", remedy->repeat_sts);
    json_bool(json, "meets_measure", remedy->meets);
    json_bool(json, "far_from_measure", remedy->far);
    json_whole(json, "extra_rounds", remedy->extra_rounds);
    json_whole(json, "increase", remedy->increase);
    json_whole(json, "decrease", remedy->decrease);
    json_bool(json, "decrease_first", remedy->before_is_decrease);
    json_whole(json, "plain_columns", remedy->plain_columns);
    json_whole_or_null(json, "plain_after_column", remedy->remake.plain_after,
                       remedy->plain_columns > 0);
    write_remedy_columns(json, &remedy->remake);
    json_whole(json, "left_over_stitches", remedy->left_over);
    json_bool(json, "left_over_plain", remedy->remake.over_plain);
    json_number(json, "finished_inches", remedy->finished_in);
    json_number(json, "off_inches", remedy->off_in);
    json_number(json, "stitches_per_inch", remedy->gauge_per_in);
    write_remedy_floats(json, &remedy->floats);
    json_array_open(json, "rows_no_longer_one_and_one");
    for (int i = 0; i < remedy->nuneven_rows; i++)
        json_whole(json, NULL, remedy->uneven_rows[i] + 1);
    json_array_close(json);
    json_array_open(json, "rows_cut");
    for (int i = 0; i < remedy->ntorn_rows; i++)
        json_whole(json, NULL, remedy->torn_rows[i] + 1);
    json_array_close(json);
    if (remedy->must) {
        json_bool(json, "passes", remedy->passes);
        json_number(json, "pulls_to_inches", remedy->pulls_to_in);
    } else {
        json_null(json, "passes");
        json_null(json, "pulls_to_inches");
    }
    json_string(json, "choice", remedy->choice);
    json_string(json, "brief", remedy->brief);
    json_string(json, "line", remedy->line);
    json_object_close(json);
}

static void number_if(struct json *json, const char *key, double value, bool known)
{
    if (known)
        json_number(json, key, value);
    else
        json_null(json, key);
}

static void write_fit(struct json *json, const struct plan_band *band)
{
    bool target = band->has_target;

    json_object_open(json, "fit");
    number_if(json, "target_stitches", target ? rational_double(band->target_sts) : 0, target);
    number_if(json, "measure_inches", band->measure_in, target);
    number_if(json, "wanted_inches", band->wanted_in, target);
    json_number(json, "finished_inches", band->finished_in);
    number_if(json, "sewn_inches", band->sewn_in, band->sewn_in > 0.0);
    number_if(json, "ease_part", band->ease_ratio, target);
    json_bool(json, "within_gauge", band->within_gauge);
    json_string(json, "picked", band->remedy ? band->remedy->choice : NULL);
    json_array_open(json, "remedies");
    for (int i = 0; i < band->nremedies; i++)
        write_remedy(json, &band->remedies[i]);
    json_array_close(json);
    json_object_close(json);
}

static void write_histogram(struct json *json, const struct plan_colour *colour)
{
    json_whole(json, "histogram_top_stitches", colour->histogram ? colour->histogram_limit : 0);
    json_array_open(json, "histogram");
    for (int n = 1; colour->histogram && n <= colour->histogram_limit; n++) {
        if (colour->histogram[n] == 0)
            continue;
        json_line_open(json, NULL);
        json_whole(json, "stitches", n);
        json_whole(json, "floats", colour->histogram[n]);
        json_object_close(json);
    }
    json_array_close(json);
}

static void write_colour(struct json *json, const struct plan_piece *piece,
                         const struct plan_colour *colour)
{
    const struct float_tally *tally = &colour->tally;

    json_object_open(json, NULL);
    json_string(json, "yarn", json_yarn_name(piece, colour->yarn));
    json_whole(json, "stitches", tally->stitches);
    json_whole(json, "float_stitches", tally->float_stitches);
    json_whole(json, "floats", tally->floats);
    json_whole(json, "longest_stitches", tally->longest_sts);
    json_number(json, "longest_inches", colour->longest_in);
    json_whole_or_null(json, "longest_row", tally->longest_row + 1, tally->longest_row >= 0);
    json_whole(json, "start_longest_stitches", tally->start_longest_sts);
    json_whole(json, "over_limit", tally->over_limit);
    json_whole(json, "catches_fewest", tally->catches_fewest);
    json_whole(json, "catches", colour->catches);
    json_whole(json, "spares", colour->spares);
    json_line_open(json, "piece");
    json_whole(json, "stitches", colour->piece_stitches);
    json_whole(json, "float_stitches", colour->piece_float_stitches);
    json_whole(json, "longest_stitches", colour->piece_longest_sts);
    json_whole(json, "catches", colour->piece_catches);
    json_whole(json, "spares", colour->piece_spares);
    json_object_close(json);
    write_histogram(json, colour);
    json_object_close(json);
}

static void write_cliff(struct json *json, const char *key, const struct plan_cliff *cliff,
                        bool known)
{
    if (!known) {
        json_null(json, key);
        return;
    }
    json_line_open(json, key);
    json_number(json, "stitches_per_inch", cliff->per_in);
    json_whole(json, "leave_stitches", cliff->leave_sts);
    json_whole(json, "catches_fewest", cliff->catches);
    json_object_close(json);
}

static void write_counts(struct json *json, const struct plan_band *band)
{
    json_string(json, "name", band->name);
    json_string(json, "chart", band->chart_name);
    json_whole(json, "repeat_stitches", band->repeat_sts);
    json_whole(json, "begins_with", band->begin + 1);
    json_whole(json, "rows", band->rows);
    json_whole(json, "upwards", band->upwards);
    json_whole(json, "repeats", band->repeats);
    json_bool(json, "repeats_given", band->repeats_given);
    json_whole(json, "stitches", band->stitches);
    json_whole(json, "side_stitches", band->side_sts);
    json_whole(json, "stitches_on_needle", band->stitches_on_needle);
    json_whole(json, "leave_stitches", band->leave_sts);
    json_number(json, "height_inches", band->height_in);
    json_whole(json, "first_row", band->first_round);
    json_whole(json, "rows_of_three_colours", band->rows_three_colours);
}

/* How sure it is that no placing is better; row by row nothing is proven. */
static void write_proof(struct json *json, const struct plan_band *band)
{
    json_string(json, "placement", band->placed_best ? "best" : "quick");
    json_bool(json, "proven", band->placed_best && band->proof.proven);
    if (!band->placed_best) {
        json_null(json, "at_least");
        json_null(json, "placed");
        return;
    }
    json_line_open(json, "at_least");
    json_whole(json, "stacks", band->proof.stacks);
    json_whole(json, "catches", band->proof.catches);
    json_whole(json, "near", band->proof.near);
    json_whole(json, "squares", band->proof.squares);
    json_object_close(json);
    json_line_open(json, "placed");
    json_whole(json, "stacks", band->catches->stacked + band->catches->doubled);
    json_whole(json, "catches", band->catches->count);
    json_whole(json, "near", band->proof.placed_near);
    json_whole(json, "squares", band->proof.placed_squares);
    json_object_close(json);
}

static void write_crowding(struct json *json, const struct plan_crowding *crowding)
{
    if (crowding->most == 0) {
        json_null(json, "crowding");
        return;
    }
    json_line_open(json, "crowding");
    json_number(json, "within_inches", crowding->within_in);
    json_whole(json, "most", crowding->most);
    json_whole(json, "row", crowding->row + 1);
    json_whole(json, "column", crowding->column + 1);
    json_object_close(json);
}

static void write_spares(struct json *json, const struct plan_band *band)
{
    if (band->spares.catches == 0) {
        json_null(json, "spares");
        return;
    }
    json_line_open(json, "spares");
    json_whole(json, "catches", band->spares.catches);
    json_whole(json, "without_stacked", band->spares.without_stacked);
    json_whole(json, "without_doubled", band->spares.without_doubled);
    json_whole(json, "without_touching", band->spares.without_touching);
    json_object_close(json);
}

static void write_tight(struct json *json, const struct plan_piece *piece, const struct plan_band *band)
{
    json_array_open(json, "no_room_at");
    for (int i = 0; i < band->ntight; i++) {
        json_line_open(json, NULL);
        json_whole(json, "row", band->tight[i].row + 1);
        json_whole(json, "column", band->tight[i].column + 1);
        json_string(json, "strand", json_yarn_name(piece, band->tight[i].strand));
        json_object_close(json);
    }
    json_array_close(json);
}

static void write_catches(struct json *json, const struct plan_piece *piece, const struct plan_band *band,
                          const struct quoted_names *names)
{
    const struct catch_map *map = band->catches;

    json_whole(json, "longest_stitches", band->longest_sts);
    json_number(json, "longest_inches", band->longest_in);
    json_whole(json, "over_limit", band->over_limit);
    json_whole(json, "catches_fewest_repeat", band->catches_fewest_repeat);
    json_whole(json, "catches_repeat", band->catches_repeat);
    json_whole(json, "catches_piece", band->catches_piece);
    json_whole(json, "catches_busiest_row", band->busiest_catches);
    json_whole(json, "stacked", map ? map->stacked : 0);
    json_whole(json, "doubled", map ? map->doubled : 0);
    json_whole(json, "touching", map ? map->touching : 0);
    json_whole(json, "no_room", band->ntight);
    write_tight(json, piece, band);
    write_spares(json, band);
    write_crowding(json, &band->crowding);
    write_proof(json, band);
    json_object_open(json, "cliffs");
    write_cliff(json, "below", &band->below, band->has_cliff_below);
    write_cliff(json, "above", &band->above, band->has_cliff_above);
    json_object_close(json);
    write_marks(json, "catches", map, names);
    write_marks(json, "edge_catches", band->outer, names);
}

void json_bands(struct work *work, struct json *json, const struct plan_piece *piece)
{
    struct quoted_names names;

    names.longest = 0;
    quote_names(work, piece, &names);
    json_array_open(json, "bands");
    for (int i = 0; i < piece->nbands; i++) {
        const struct plan_band *band = &piece->bands[i];

        json_object_open(json, NULL);
        write_counts(json, band);
        write_fit(json, band);
        json_array_open(json, "colours");
        for (int c = 0; c < band->ncolours; c++)
            write_colour(json, piece, &band->colours[c]);
        json_array_close(json);
        write_catches(json, piece, band, &names);
        json_centre(json, piece, band);
        json_fronts(json, band);
        json_stretch(json, piece, band);
        json_recolours(json, piece, band);
        json_object_close(json);
    }
    json_array_close(json);
}

void json_bands_short(struct json *json, const struct plan_piece *piece)
{
    json_array_open(json, "bands");
    for (int i = 0; i < piece->nbands; i++) {
        const struct plan_band *band = &piece->bands[i];

        json_line_open(json, NULL);
        json_string(json, "name", band->name);
        json_whole(json, "repeats", band->repeats);
        json_whole(json, "repeat_stitches", band->repeat_sts);
        json_string(json, "picked", band->remedy ? band->remedy->choice : NULL);
        json_whole(json, "stitches", band->stitches);
        json_whole(json, "stitches_on_needle", band->stitches_on_needle);
        json_whole(json, "leave_stitches", band->leave_sts);
        json_number(json, "finished_inches", band->finished_in);
        number_if(json, "ease_part", band->ease_ratio, band->has_target);
        number_if(json, "off_part", band->off_part, band->has_target);
        if (band->stretch)
            json_bool(json, "passes", band->stretch->passes);
        else
            json_null(json, "passes");
        json_number(json, "height_inches", band->height_in);
        json_whole(json, "longest_stitches", band->longest_sts);
        json_number(json, "longest_inches", band->longest_in);
        json_whole(json, "over_limit", band->over_limit);
        json_whole(json, "catches_repeat", band->catches_repeat);
        json_whole(json, "catches_piece", band->catches_piece);
        json_object_close(json);
    }
    json_array_close(json);
}
