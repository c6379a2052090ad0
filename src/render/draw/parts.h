/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The parts of a drawn chart, and where everything on it stands. Used by draw*.c alone.
 */
#ifndef STRANDWISE_DRAW_PARTS_H
#define STRANDWISE_DRAW_PARTS_H

#include "draw.h"
#include "plan/catches/strands.h"
#include "words/words.h"

enum draw_texture { TEXTURE_NONE, TEXTURE_LYING, TEXTURE_UPRIGHT, TEXTURE_CROSSED };

struct drawing {
    struct work *work;
    const struct plan *plan;
    const struct plan_band *band;
    struct page page; /* for words alone */
    struct sheet *sheet;
    bool wrong_side;
    enum draw_show show;
    bool first_row_right_side;      /* flat */
    int ncols, nrows;               /* right side stitches, repeat and left side stitches together */
    int right_cols;                 /* of those, the right side stitches */
    double x_mm, y_mm;              /* top left corner of the stitches */
    double cell_w_mm, cell_h_mm;
    double words_mm;                /* width of head and key so far */
    int rank[GRID_YARNS_MAX];       /* of the knitted yarns: 0, 1, ...: which way its mark lies */
    bool seen[GRID_YARNS_MAX];      /* yarn shows in this band */
    bool seen_empty;                /* a square that is no stitch */
    enum draw_texture texture[GRID_YARNS_MAX]; /* tells apart what looks alike in grey */
    int64_t nmarks[GRID_YARNS_MAX]; /* catches drawn, by strand */
    int64_t nmarks_edge[GRID_YARNS_MAX]; /* of those, only beside an edge */
    int64_t nmarks_left_out[GRID_YARNS_MAX]; /* of those, left out beside an edge */
    bool seen_dot[2];               /* catches on a map of them: everywhere, only beside an edge */
};

/* --- where and in what shade (draw.c) ------------------------------------------------- */

/* Left edge of a column (from 0 at the right of the chart), top edge of a row (from 0 below). */
double draw_column_x(const struct drawing *drawing, int column);
double draw_row_y(const struct drawing *drawing, int row);
double draw_middle_x(const struct drawing *drawing, int column);
double draw_middle_y(const struct drawing *drawing, int row);

struct sheet_shade draw_shade(const struct drawing *drawing, int yarn);
/* Black or white, whichever stands out better against that. */
struct sheet_shade draw_against(struct sheet_shade ground);
/* part 0: white, 1: the shade itself. */
struct sheet_shade draw_tint(struct sheet_shade shade, double part);

/* Ready for the parts below but for what stands where: x_mm, y_mm and the cells' size. (draw.c) */
struct drawing *draw_begin(struct work *work, const struct plan *plan, const struct plan_band *band,
                           enum draw_show show, bool wrong_side);
/* Its sheet, with a title; the size of a stitch chosen. (draw.c) */
struct sheet *draw_open_sheet(struct drawing *drawing, const struct draw_style *style);

/* The smaller side of a stitch: marks are parts of it. (draw.c) */
double draw_mark_size_mm(const struct drawing *drawing);

/* Which end a row begins at, as drawn. (draw/frame.c) */
bool draw_begins_at_right(const struct drawing *drawing, int row);
/* "worked 6 times round", and how the rows are read. (draw/legend.c) */
const char *draw_times_words(const struct drawing *drawing);
const char *draw_reading_words(const struct drawing *drawing);
/* What does not hold beside an edge; NULL: all does. After draw_catches(). In a chart in characters
 * no mark says which edge. */
const char *draw_edge_words(const struct drawing *drawing, bool in_characters);

/* All catches to be drawn, counted in the drawing by what their marks show. (draw/chart.c) */
const struct drawn_catch *draw_catches(struct drawing *drawing, int64_t *count);

/* --- parts ---------------------------------------------------------------------------- */

/* The stitches, in their shades mixed with white or, on a map, by how crowded they are. (draw/cells.c) */
void draw_cells(struct drawing *drawing, double shade_part);
void draw_textures(struct drawing *drawing);
void draw_sewn(struct drawing *drawing);
/* One stitch of a yarn for the legend. */
void draw_sample(struct drawing *drawing, int yarn, double x_mm, double y_mm, double width_mm,
                 double height_mm);
void draw_empty_sample(struct drawing *drawing, double x_mm, double y_mm, double width_mm,
                       double height_mm);
void draw_sewn_sample(struct drawing *drawing, int yarn, double x_mm, double y_mm, double width_mm,
                      double height_mm);

void draw_lines(struct drawing *drawing);   /* draw/frame.c */
void draw_outline(struct drawing *drawing); /* draw/frame.c */
void draw_edge(struct drawing *drawing);    /* draw/frame.c: a fine line round it all */
void draw_numbers(struct drawing *drawing); /* draw/frame.c */
double draw_number_room_mm(const struct drawing *drawing); /* at each side */

void draw_right_side(struct drawing *drawing); /* draw/chart.c */
/* Which repeats a catch stands in, as its mark shows it. */
enum draw_standing { STANDING_ALL, STANDING_EDGE, STANDING_LEFT_OUT, STANDINGS };
enum draw_standing draw_standing_of(const struct drawn_catch *caught);
void draw_catch_sample(struct drawing *drawing, int strand, struct sheet_shade ground,
                       enum draw_standing standing, double x_mm, double y_mm, double size_mm);
/* Under which number, from 0, a stitch could be changed, and into which yarn; RECOLOUR_ONES_MAX: only with
 * another; -1: not. (draw/changes.c) */
int draw_change_at(const struct drawing *drawing, int row, int column, uint8_t *yarn);
const char *draw_change_words(const struct drawing *drawing, int number); /* NULL: there is none */
void draw_changes(struct drawing *drawing);
void draw_wrong_side(struct drawing *drawing); /* draw/back.c */
void draw_strand_sample(struct drawing *drawing, int strand, bool over_limit, int tie_yarn,
                        double x_mm, double y_mm, double width_mm, double height_mm);

/* A map of close catches (draw/dents.c): how crowded a stitch is, -1: not; and its grey. */
enum { DRAW_CROWDED_STEPS = 3 };
int draw_crowded_step(const struct drawing *drawing, int row, int column);
struct sheet_shade draw_crowded_shade(int step);
/* Dots, what joins them, and bars. Returned: room taken below the stitches. */
double draw_dents(struct drawing *drawing);
/* The part of the sheet beside and below the stitches that the bars take at most; are there any? */
#define DRAW_BARS_ASIDE_MM 16.0
#define DRAW_BARS_BELOW_MM 20.0
bool draw_has_bars(const struct drawing *drawing);

/* Where the next entry of the legend goes: columns filled from the left, then the next line. */
struct shelf {
    struct drawing *drawing;
    double y_mm;
    double column_mm; /* width of a column; 0 while only measuring */
    int columns, place;
    double room_mm;   /* words wider than this are broken; 0 while only measuring */
    double widest_mm; /* of all words so far */
};
/* Room for a sample beside its words. Returned: false while only measuring. (draw/legend.c) */
bool shelf_entry(struct shelf *shelf, const char *words, double *x, double *y);
#define DRAW_SAMPLE_MM 4.2      /* its height */
#define DRAW_SAMPLE_ROOM_MM 14.0 /* to where its words begin */
void draw_dents_list(struct shelf *shelf); /* draw/dents.c */
void draw_changes_list(struct shelf *shelf); /* draw/changes.c */
const char *draw_dents_words(const struct drawing *drawing); /* the line above the legend */

/* Head above the chart: the height it takes. (draw/legend.c) */
double draw_head(struct drawing *drawing);
/* The legend below the chart and what stands below that; the sheet is then as high as it all is, and
 * knows its chart. right_mm: what stands beside the chart. (draw/legend.c) */
void draw_key(struct drawing *drawing, double right_mm, double below_mm);
/* Where the chart stands on its sheet. */
struct sheet_chart draw_sheet_chart(const struct drawing *drawing, double right_mm, double below_mm,
                                    double key_width_mm);
int draw_legend_lines(const struct drawing *drawing); /* at most */

#endif
