/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sections.h"

static void write_way(struct json *json, const char *key, const struct plan_duplicate_way *way)
{
    json_line_open(json, key);
    json_number(json, "own_m", way->own_m);
    json_number(json, "all_m", way->all_m);
    json_whole(json, "catches", way->catches);
    json_whole(json, "rows_three_colours", way->rows_three);
    json_number(json, "hours", way->hours);
    json_object_close(json);
}

static void write_row(struct json *json, const struct plan_piece *piece,
                      const struct plan_duplicate_row *row)
{
    json_object_open(json, NULL);
    json_whole(json, "row", row->row + 1);
    json_string(json, "under", json_yarn_name(piece, row->under));
    json_whole(json, "stitches", row->stitches);
    write_way(json, "stranded", &row->stranded);
    write_way(json, "sewn", &row->sewn);
    json_object_close(json);
}

static const char *verdict_word(enum duplicate_verdict verdict)
{
    switch (verdict) {
    case DUPLICATE_STRAND:
        return "strand";
    case DUPLICATE_SEW:
        return "sew on";
    case DUPLICATE_EITHER:
        break;
    }
    return "either";
}

static void write_choice(struct json *json, const struct plan_piece *piece,
                         const struct plan_duplicate *choice)
{
    json_object_open(json, NULL);
    json_string(json, "band", choice->band < 0 ? NULL : piece->bands[choice->band].name);
    json_string(json, "yarn", json_yarn_name(piece, choice->yarn));
    json_bool(json, "sewn_now", choice->sewn_now);
    json_bool(json, "all_rows", choice->all_rows);
    json_whole(json, "stitches", choice->stitches);
    json_whole(json, "spots", choice->spots);
    write_way(json, "stranded", &choice->stranded);
    write_way(json, "sewn", &choice->sewn);
    write_way(json, "stranded_apart", &choice->stranded_apart);
    write_way(json, "sewn_apart", &choice->sewn_apart);
    json_line_open(json, "saved");
    json_number(json, "yarn_m", choice->saved_m);
    json_whole(json, "catches", choice->saved_catches);
    json_whole(json, "rows_three_colours", choice->saved_rows_three);
    json_number(json, "hours", choice->saved_hours);
    json_object_close(json);
    json_string(json, "verdict", verdict_word(choice->verdict));
    json_bool(json, "said", choice->notable);
    json_array_open(json, "rows");
    for (int i = 0; i < choice->nrows; i++)
        write_row(json, piece, &choice->rows[i]);
    json_array_close(json);
    json_object_close(json);
}

void json_duplicates(struct json *json, const struct plan *plan)
{
    json_number(json, "stitches_an_hour", plan->pace_sts_per_hour);
    json_array_open(json, "duplicate");
    for (int i = 0; i < plan->nduplicates; i++)
        write_choice(json, &plan->piece, &plan->duplicates[i]);
    json_array_close(json);
    json_array_open(json, "duplicate_yarns");
    for (int i = 0; i < plan->nduplicate_yarns; i++)
        write_choice(json, &plan->piece, &plan->duplicate_yarns[i]);
    json_array_close(json);
}

void json_exchanged(struct json *json, const struct plan *plan)
{
    const struct plan_exchanged *exchanged = &plan->exchanged;

    if (exchanged->nbands == 0) {
        json_null(json, "exchanged");
        return;
    }
    json_object_open(json, "exchanged");
    json_array_open(json, "bands");
    for (int i = 0; i < exchanged->nbands; i++)
        json_string(json, NULL, plan->piece.bands[exchanged->bands[i].band].name);
    json_array_close(json);
    json_array_open(json, "pairs");
    for (int i = 0; i < exchanged->nbands; i++) {
        const struct plan_exchanged_band *band = &exchanged->bands[i];

        json_line_open(json, NULL);
        json_string(json, "band", plan->piece.bands[band->band].name);
        json_string(json, "ground", json_yarn_name(&plan->piece, band->ground));
        json_string(json, "pattern", json_yarn_name(&plan->piece, band->pattern));
        json_object_close(json);
    }
    json_array_close(json);
    json_yarns_short(json, exchanged->yarns, plan->piece.nyarns);
    json_object_close(json);
}
