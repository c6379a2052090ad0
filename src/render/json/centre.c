/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Centre, start and needles of a band.
 */
#include "sections.h"

static const char *line_word(enum plan_line line)
{
    static const char *const words[] = {"neither", "motif", "gap", "alike"};

    return words[line];
}

static void write_start(struct json *json, const char *key, const struct plan_piece *piece,
                        const struct plan_start *start)
{
    json_line_open(json, key);
    json_whole(json, "stitch", start->at.start + 1);
    json_whole_or_null(json, "begin_with", start->stitch, start->stitch > 0);
    json_whole(json, "jog_rows", start->at.jog_rows);
    json_whole(json, "jog_rows_all", start->at.jog_rows_all);
    json_whole(json, "strand_stitches", start->at.strand_sts);
    json_string(json, "strand_yarn", json_yarn_name(piece, start->at.strand_yarn));
    json_whole_or_null(json, "strand_row", start->at.strand_row + 1, start->at.strand_row >= 0);
    json_bool(json, "over_limit", start->over_limit);
    json_string(json, "front", line_word(start->front));
    json_string(json, "back", line_word(start->back));
    json_object_close(json);
}

/* Half columns from 0 as columns from 1. */
static void write_column(struct json *json, const char *key, int half)
{
    if (half >= 0)
        json_number(json, key, half / 2.0 + 1.0);
    else
        json_null(json, key);
}

static void write_needles(struct json *json, const struct plan_needles *way)
{
    json_line_open(json, NULL);
    json_array_open(json, "stitches");
    for (int i = 0; i < way->needles; i++)
        json_whole(json, NULL, way->sts[i]);
    json_array_close(json);
    json_whole(json, "rows_crossed", way->crosses.rows);
    json_whole(json, "longest_stitches", way->crosses.longest_sts);
    json_array_open(json, "even");
    for (int i = 0; way->uneven && i < way->needles; i++)
        json_whole(json, NULL, way->even_sts[i]);
    json_array_close(json);
    json_whole_or_null(json, "even_rows_crossed", way->even_crosses.rows, way->uneven);
    json_object_close(json);
}

void json_fronts(struct json *json, const struct plan_band *band)
{
    const struct plan_fronts *fronts = band->fronts;

    if (!fronts) {
        json_null(json, "steek_edges");
        return;
    }
    json_line_open(json, "steek_edges");
    json_bool(json, "chart_mirrors", fronts->known);
    json_bool(json, "mirror", fronts->known && fronts->more_sts == 0);
    json_whole_or_null(json, "more_stitches", fronts->more_sts, fronts->known);
    json_whole_or_null(json, "begin_with_stitch", fronts->start + 1, fronts->known && fronts->start >= 0);
    json_object_close(json);
}

void json_centre(struct json *json, const struct plan_piece *piece, const struct plan_band *band)
{
    const struct plan_centre *centre = band->centre;

    if (!centre) {
        json_null(json, "centre");
        return;
    }
    json_object_open(json, "centre");
    write_column(json, "motif_column", centre->motif);
    write_column(json, "gap_column", centre->gap);
    write_start(json, "now", piece, &centre->now);
    json_whole_or_null(json, "motif_at_front", centre->front_start + 1, centre->front_start >= 0);
    json_bool(json, "half_a_stitch_off", centre->front_half_off);
    json_array_open(json, "starts");
    for (int i = 0; i < centre->nbest; i++)
        write_start(json, NULL, piece, &centre->best[i]);
    json_array_close(json);
    json_array_open(json, "needles");
    for (int i = 0; i < PLAN_NEEDLE_WAYS; i++)
        write_needles(json, &centre->needles[i]);
    json_array_close(json);
    json_object_close(json);
}
