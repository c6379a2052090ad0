/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How the piece will wear: what each band pulls to, and where plain meets stranded.
 */
#include "sections.h"

static void write_row(struct json *json, const struct plan_piece *piece,
                      const struct plan_stretch_row *row, int number)
{
    json_line_open(json, NULL);
    json_whole(json, "row", number);
    json_string(json, "yarn", json_yarn_name(piece, row->yarn));
    json_whole(json, "stitches", row->own);
    json_whole(json, "of", row->all);
    json_number(json, "ratio", row->ratio);
    json_number(json, "pulls_to_inches", row->pulls_to_in);
    json_bool(json, "passes", row->passes);
    json_object_close(json);
}

static void number_if(struct json *json, const char *key, bool known, double value)
{
    if (known)
        json_number(json, key, value);
    else
        json_null(json, key);
}

static void write_remedies(struct json *json, const struct plan_stretch *stretch)
{
    if (stretch->passes) {
        json_null(json, "would_pass");
        return;
    }
    json_object_open(json, "would_pass");
    json_number(json, "stitches_exact", stretch->need_sts);
    json_whole_or_null(json, "repeats", stretch->need_repeats, stretch->need_repeats > 0);
    number_if(json, "finished_inches", stretch->need_repeats > 0, stretch->need_in);
    number_if(json, "float_ratio", stretch->loosen, stretch->loosen_float_ratio);
    number_if(json, "slack_ratio", stretch->loosen, stretch->loosen_slack_ratio);
    json_bool(json, "slack_in_loops", stretch->loosen_loops);
    json_whole_or_null(json, "sewn_stitches", stretch->sew_sts, stretch->sew_rows > 0);
    json_number(json, "stitches_per_inch", stretch->needle_per_in);
    json_number(json, "gauge_change_part", stretch->needle_part);
    json_bool(json, "by_another_needle", stretch->needle_near);
    json_object_close(json);
}

void json_stretch(struct json *json, const struct plan_piece *piece, const struct plan_band *band)
{
    const struct plan_stretch *stretch = band->stretch;

    if (!stretch) {
        json_null(json, "stretch");
        return;
    }
    json_object_open(json, "stretch");
    json_number(json, "must_pass_inches", stretch->must_in);
    json_number(json, "stitch_ratio", stretch->stitch_ratio);
    json_bool(json, "stitch_pulled", stretch->stitch_pulled);
    json_number(json, "float_ratio", stretch->float_ratio);
    json_bool(json, "float_pulled", stretch->float_pulled);
    json_number(json, "pulls_to_inches", stretch->pulls_to_in);
    json_number(json, "spare_inches", stretch->spare_in);
    json_bool(json, "passes", stretch->passes);
    json_bool(json, "close", stretch->close);
    json_whole(json, "tightest_row", stretch->tightest + 1);
    json_whole(json, "rows_stopping", stretch->stopping);
    json_array_open(json, "rows");
    for (int r = 0; r < band->rows; r++)
        write_row(json, piece, &stretch->rows[r], r + 1);
    json_array_close(json);
    write_remedies(json, stretch);
    json_object_close(json);
}

static void write_border(struct json *json, const struct plan_piece *piece,
                         const struct plan_border *border)
{
    bool open = !border->slight && !border->asked, fits = border->fit_sts > 0;

    json_object_open(json, NULL);
    json_string(json, "plain", border->plain_name);
    json_string(json, "band", piece->bands[border->band].name);
    json_bool(json, "plain_below", border->plain_below);
    json_whole(json, "plain_stitches", border->plain_sts);
    json_whole(json, "band_stitches", border->band_sts);
    json_number(json, "plain_inches", border->plain_in);
    json_number(json, "band_inches", border->band_in);
    json_number(json, "step_inches", border->step_in);
    json_number(json, "step_part", border->step_part);
    json_number(json, "drawn_in_inches", border->drawn_in);
    json_number(json, "drawn_in_part", border->drawn_part);
    json_bool(json, "slight", border->slight);
    json_bool(json, "asked_for", border->asked);
    number_if(json, "stitches_per_inch", open, border->needle_per_in);
    number_if(json, "gauge_change_part", open, border->needle_part);
    json_bool(json, "by_another_needle", border->needle_near);
    number_if(json, "even_stitches_exact", open, border->even_sts);
    json_whole_or_null(json, "fit_stitches", border->fit_sts, fits);
    number_if(json, "fit_step_inches", fits, border->fit_step_in);
    number_if(json, "fit_step_part", fits, border->fit_step_part);
    json_string(json, "fit_line", border->fit_line);
    json_bool(json, "fit_too_tight", border->fit_stopped);
    json_string(json, "fit_sharers", border->fit_sharers);
    json_whole_or_null(json, "plain_fit_stitches", border->plain_fit_sts, border->plain_fit_sts > 0);
    json_whole_or_null(json, "plain_fit_on_needle", border->plain_fit_on_needle,
                       border->plain_fit_sts > 0);
    json_string(json, "plain_fit_line", border->plain_fit_line);
    json_object_close(json);
}

void json_borders(struct json *json, const struct plan_piece *piece)
{
    json_array_open(json, "borders");
    for (int i = 0; i < piece->nborders; i++)
        write_border(json, piece, &piece->borders[i]);
    json_array_close(json);
}
