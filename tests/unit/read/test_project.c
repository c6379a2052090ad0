/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The project file read to exact values. Expected values: by hand from the text;
 * 1 in = 2.54 cm, 1 yd = 0.9144 m, 1 oz = 28.349523125 g.
 */
#include <CUnit/CUnit.h>

#include "check/check.h"
#include "fixture_project.h"
#include "read/project/project_reader.h"
#include "seen.h"

static bool is_ratio(struct rational value, int64_t num, int64_t den)
{
    return rational_is_value(value) && rational_compare(value, rational_make(num, den)) == 0;
}

/* --- a whole file ------------------------------------------------------------------- */

static const char whole[] =
    "[project]\n"
    "title  = Tide-line sock tops\n"
    "make   = 2                      ; a pair\n"
    "worked = round                  ; round | flat\n"
    "units  = in                     ; in | cm, for numbers written without a unit\n"
    "\n"
    "[swatch]                        ; of the stranded fabric, washed\n"
    "worked   = round\n"
    "washed   = yes\n"
    "over     = 4 in                 ; length each count was taken over\n"
    "stitches = 31 1/2, 32, 32 1/4   ; one count for each place measured\n"
    "rows     = 38, 38 1/2, 38\n"
    "\n"
    "[swatch plain]                  ; optional: the plain fabric\n"
    "over = 10 cm\n"
    "stitches = 29,5, 30\n"
    "rows = 40\n"
    "unravelled = 40 stitches took 19 1/4 in\n"
    "weight = 6.6 g: 40 stitches, 44 rows\n"
    "needle = 2.75 mm\n"
    "[measure]\n"
    "around = 10 1/4 in              ; or: width =, for flat work\n"
    "ease   = 2 %                    ; or a length; minus for snug\n"
    "height = 1 1/2 in\n"
    "\n"
    "[cast-on]\n"
    "yarn  = cream\n"
    "rib   = knit 2 purl 2, 12 rounds\n"
    "rib stitches = 72               ; or same (the default), or 90 %\n"
    "\n"
    "[band ripple]                   ; one section a band, in knitting order\n"
    "chart   = ripple.chart\n"
    "repeats = fit                   ; or a number\n"
    "upwards = 1                     ; times the chart is worked one above the other\n"
    "plain before = 1 round cream\n"
    "plain after  = 1 round cream\n"
    "                                ; a band may have its own around or width (a yoke)\n"
    "\n"
    "[plain leg]                     ; plain fabric in one yarn\n"
    "yarn = cream\n"
    "length = 5 in                   ; or: rounds =, or stitches =\n"
    "\n"
    "[yarn cream]\n"
    "mark  = .\n"
    "shade = #f3ead7                 ; or a CSS colour name\n"
    "ball  = 50 g, 210 m\n"
    "[yarn Slate Blue]\n"
    "mark  = #\n"
    "ball  = 1,75 oz, 230 yd\n"
    "[yarn coral]\n"
    "mark  = \"o\"\n"
    "duplicate over = CREAM\n"
    "\n"
    "[float]\n"
    "; leave up to = 1 in            ; longer is caught\n"
    "catch at = 2,5 cm\n"
    "slack  = 10 %\n"
    "stagger = 3                     ; columns away from a catch in the row below\n"
    "spare catches = no              ; never\n"
    "clear ends = 2\n"
    "carry up = 1 1/2 in\n"
    "\n"
    "[try thicker]                   ; another yarn or needle\n"
    "over = 4 in\n"
    "stitches = 22\n"
    "rows = 26\n"
    "ball = 50 g, 120 m\n"
    "needle = 4 mm\n"
    "[edges]\n"
    "selvedge = 0\n"
    "steek = 7\n"
    "bind-off = sewn, slate  blue\n"
    "tail = 15 cm\n"
    "edges = turn\n"
    "seam = 8.5\"\n"
    "[buy]\n"
    "margin = 12 1/2 %\n"
    "[wearer]\n"
    "child = yes\n";

static void whole_swatch(const struct project *project)
{
    const struct swatch *swatch = &project->swatch, *plain = &project->swatch_plain;

    CU_ASSERT_TRUE(swatch->is_there);
    CU_ASSERT_EQUAL(swatch->at.line, 7);
    CU_ASSERT_TRUE(swatch->washed.value);
    CU_ASSERT_TRUE(is_ratio(swatch->over.in, 4, 1));
    CU_ASSERT_EQUAL(swatch->stitches.count, 3);
    CU_ASSERT_TRUE(is_ratio(swatch->stitches.value[0], 63, 2));
    CU_ASSERT_TRUE(is_ratio(swatch->stitches.value[2], 129, 4));
    CU_ASSERT_EQUAL(swatch->stitches.place[2].column, 24);
    CU_ASSERT_EQUAL(swatch->stitches.place[2].width, 6);
    CU_ASSERT_TRUE(is_ratio(swatch->rows.value[1], 77, 2));
    CU_ASSERT_TRUE(plain->is_there);
    CU_ASSERT_FALSE(plain->washed.value);
    CU_ASSERT_FALSE(plain->washed.said);
    CU_ASSERT_TRUE(is_ratio(plain->over.in, 500, 127));
    CU_ASSERT_EQUAL(plain->stitches.count, 2);
    CU_ASSERT_TRUE(is_ratio(plain->stitches.value[0], 59, 2));
    CU_ASSERT_TRUE(plain->unravelled[0].row_sts > 0 && !plain->unravelled[0].stranded);
    CU_ASSERT_EQUAL(plain->unravelled[0].row_sts, 40);
    CU_ASSERT_TRUE(is_ratio(plain->unravelled[0].length_in[0], 77, 4));
    CU_ASSERT_TRUE(is_ratio(plain->weight[0].mass_g, 33, 5));
    CU_ASSERT_EQUAL(plain->weight[0].columns, 40);
    CU_ASSERT_EQUAL(plain->weight[0].rows, 44);
    CU_ASSERT_TRUE(is_ratio(plain->needle.in, 275, 2540));
}

static void whole_parts(const struct project *project)
{
    const struct part *band = &project->parts[0], *leg = &project->parts[1];

    CU_ASSERT_EQUAL_FATAL(project->nparts, 2);
    CU_ASSERT_EQUAL(band->kind, PART_BAND);
    CU_ASSERT_STRING_EQUAL(band->name, "ripple");
    CU_ASSERT_EQUAL(band->ncharts, 1);
    CU_ASSERT_STRING_EQUAL(band->chart[0].text, "ripple.chart");
    CU_ASSERT_EQUAL(band->repeats.value, 0);
    CU_ASSERT_TRUE(band->upwards.said);
    CU_ASSERT_EQUAL(band->before.rounds, 1);
    CU_ASSERT_EQUAL(band->before.yarn.index, 0);
    CU_ASSERT_EQUAL(band->before.yarn.at.column, 24);
    CU_ASSERT_EQUAL(band->after.yarn.index, 0);
    CU_ASSERT_EQUAL(leg->kind, PART_PLAIN);
    CU_ASSERT_EQUAL(leg->yarn.index, 0);
    CU_ASSERT_TRUE(is_ratio(leg->length.in, 5, 1));
    CU_ASSERT_FALSE(leg->rounds.value || leg->stitches.value || leg->on_needle.value);
    CU_ASSERT_STRING_EQUAL(project->cast_on.rib.text, "knit 2 purl 2, 12 rounds");
    CU_ASSERT_EQUAL(project->cast_on.rib_knit, 2);
    CU_ASSERT_EQUAL(project->cast_on.rib_purl, 2);
    CU_ASSERT_EQUAL(project->cast_on.rib_rounds, 12);
    CU_ASSERT_EQUAL(project->cast_on.stitches_kind, RIB_COUNT);
    CU_ASSERT_EQUAL(project->cast_on.stitches.value, 72);
    CU_ASSERT_EQUAL(project->cast_on.purl_yarn.index, -1);
}

static void whole_yarns(const struct project *project)
{
    const struct yarn *yarn = project->yarns;

    CU_ASSERT_EQUAL_FATAL(project->nyarns, 3);
    CU_ASSERT_STRING_EQUAL(yarn[0].mark.text, ".");
    CU_ASSERT_EQUAL(yarn[0].rgb[0], 0xf3);
    CU_ASSERT_EQUAL(yarn[0].rgb[2], 0xd7);
    CU_ASSERT_TRUE(is_ratio(yarn[0].ball.mass_g, 50, 1));
    CU_ASSERT_TRUE(is_ratio(yarn[0].ball.length_m, 210, 1));
    CU_ASSERT_STRING_EQUAL(yarn[1].name, "Slate Blue");
    CU_ASSERT_STRING_EQUAL(yarn[1].mark.text, "#");
    CU_ASSERT_PTR_NULL(yarn[1].shade.text);
    CU_ASSERT_TRUE(is_ratio(yarn[1].ball.mass_g, 28349523125 * 7, 4000000000));
    CU_ASSERT_TRUE(is_ratio(yarn[1].ball.length_m, 2103120, 10000));
    CU_ASSERT_STRING_EQUAL(yarn[2].mark.text, "o");
    CU_ASSERT_PTR_NOT_NULL(yarn[2].duplicate_over.name);
    CU_ASSERT_EQUAL(yarn[2].duplicate_over.index, 0);
    CU_ASSERT_TRUE(!yarn[0].duplicate_over.name && yarn[0].duplicate_over.index == -1);
    CU_ASSERT_EQUAL(project_yarn_find(project, "SLATE blue"), 1);
    CU_ASSERT_EQUAL(project_yarn_find(project, "slate"), -1);
}

static void whole_rest(const struct project *project)
{
    CU_ASSERT_FALSE(rational_is_value(project->leave_up_to.in));
    CU_ASSERT_TRUE(is_ratio(project->catch_at.in, 125, 127));
    CU_ASSERT_TRUE(is_ratio(project->slack.ratio, 1, 10));
    CU_ASSERT_EQUAL(project->stagger.value, 3);
    CU_ASSERT_TRUE(project->spare_catches.said && !project->spare_catches.value);
    CU_ASSERT_EQUAL(project->clear_ends.value, 2);
    CU_ASSERT_TRUE(is_ratio(project->carry_up.in, 3, 2));
    CU_ASSERT_EQUAL_FATAL(project->ntries, 1);
    CU_ASSERT_STRING_EQUAL(project->tries[0].name, "thicker");
    CU_ASSERT_TRUE(is_ratio(project->tries[0].stitches.value[0], 22, 1));
    CU_ASSERT_TRUE(is_ratio(project->tries[0].ball.length_m, 120, 1));
    CU_ASSERT_TRUE(is_ratio(project->tries[0].needle.in, 40, 254));
    CU_ASSERT_TRUE(project->selvedge.said);
    CU_ASSERT_EQUAL(project->steek.value, 7);
    CU_ASSERT_EQUAL(project->bind_off.value, BIND_OFF_SEWN);
    CU_ASSERT_EQUAL(project->bind_off_yarn.index, 1);
    CU_ASSERT_TRUE(is_ratio(project->tail.in, 1500, 254));
    CU_ASSERT_EQUAL(project->edges.value, EDGE_TURN);
    CU_ASSERT_TRUE(is_ratio(project->seam.in, 17, 2));
    CU_ASSERT_TRUE(is_ratio(project->margin.ratio, 1, 8));
    CU_ASSERT_TRUE(project->child.value);
}

static void whole_file(void)
{
    struct work work = fixture_work_with_tables();
    const struct project *project = fixture_read(&work, whole);

    CU_ASSERT_EQUAL(seen_all(&work), 0);
    if (seen_all(&work) > 0)
        fprintf(stderr, "%s", fixture_printed(&work, false));
    CU_ASSERT_STRING_EQUAL(project->title.text, "Tide-line sock tops");
    CU_ASSERT_EQUAL(project->make.value, 2);
    CU_ASSERT_EQUAL(project->worked.value, WORKED_ROUND);
    CU_ASSERT_EQUAL(project->units.value, UNIT_INCH);
    CU_ASSERT_STRING_EQUAL(project->no_stitch.text, "-");
    CU_ASSERT_TRUE(is_ratio(project->around.in, 41, 4));
    CU_ASSERT_EQUAL(project->around.at.line, 22);
    CU_ASSERT_EQUAL(project->around.at.column, 10);
    CU_ASSERT_EQUAL(project->around.at.width, 9);
    CU_ASSERT_TRUE(project->ease.is_ratio);
    CU_ASSERT_TRUE(is_ratio(project->ease.value, 1, 50));
    CU_ASSERT_TRUE(is_ratio(project->height.in, 3, 2));
    CU_ASSERT_FALSE(rational_is_value(project->width.in));
    whole_swatch(project);
    whole_parts(project);
    whole_yarns(project);
    whole_rest(project);
    fixture_end(&work);
}

static void good_file(void)
{
    struct work work = fixture_work_with_tables();
    const struct project *project = fixture_read(&work, fixture_good);
    const struct given_unravelled *row = &project->swatch.unravelled[0];

    CU_ASSERT_EQUAL(seen_all(&work), 0);
    CU_ASSERT_TRUE(row->stranded);
    CU_ASSERT_EQUAL(row->row_sts, 40);
    CU_ASSERT_EQUAL(row->yarn[0].index, 0);
    CU_ASSERT_EQUAL(row->yarn[1].index, 1);
    CU_ASSERT_EQUAL(row->yarn_sts[0], 28);
    CU_ASSERT_EQUAL(row->yarn_sts[1], 12);
    CU_ASSERT_TRUE(is_ratio(row->length_in[0], 121, 8));
    CU_ASSERT_TRUE(is_ratio(row->length_in[1], 77, 8));
    fixture_end(&work);
}

/* The same key again with a number behind it; any of them may be left out. */
static void measured_again(void)
{
    struct work work = fixture_work_with_tables();
    const struct project *project = fixture_read(
        &work, fixture_spoilt(&work, "needle = 2.75 mm",
                              "unravelled 3 = 40 stitches of slate took 19 1/8 in\n"
                              "marked = 75 stitches took 36 in\n"
                              "Weight 9 = 13 g: 60 stitches, 52 rows\n"
                              "ball weighed 2 = Cream 48.3 g to 1 1/2 oz: 1600 sts, 950 sts in cream\n"
                              "ball weighed = slate 50 g to 46 g: 640 stitches\n"
                              "scale = 0.1 g"));
    const struct swatch *swatch = &project->swatch;

    CU_ASSERT_EQUAL(seen_all(&work), 0);
    CU_ASSERT_TRUE(swatch->unravelled[0].stranded && swatch->unravelled[1].row_sts == 0);
    CU_ASSERT_TRUE(swatch->unravelled[2].row_sts == 40 && !swatch->unravelled[2].stranded);
    CU_ASSERT_EQUAL(swatch->unravelled[2].yarn[0].index, 1);
    CU_ASSERT_TRUE(is_ratio(swatch->unravelled[2].length_in[0], 153, 8));
    CU_ASSERT_TRUE(swatch->marked[0].row_sts == 75);
    CU_ASSERT_PTR_NULL(swatch->marked[0].yarn[0].name);
    CU_ASSERT_TRUE(swatch->weight[8].rows == 52 && swatch->weight[8].columns == 60);
    CU_ASSERT_EQUAL(swatch->weighed[1].yarn.index, 0);
    CU_ASSERT_EQUAL(swatch->weighed[1].all_sts, 1600);
    CU_ASSERT_EQUAL(swatch->weighed[1].yarn_sts, 950);
    CU_ASSERT_TRUE(is_ratio(swatch->weighed[1].before_g, 483, 10));
    CU_ASSERT_DOUBLE_EQUAL(rational_double(swatch->weighed[1].after_g), 42.5242846875, 1e-9);
    CU_ASSERT_EQUAL(swatch->weighed[0].yarn_sts, 640);
    CU_ASSERT_TRUE(is_ratio(swatch->scale.g, 1, 10));
    fixture_end(&work);
}

static void measured_amiss(void)
{
    static const struct spoilt amiss[] = {
        {"needle = 2.75 mm", "marked = 75 stitches", DIAG_VALUE_FORM, 14, 10, "missing behind"},
        {"needle = 2.75 mm", "marked = 75 stitches of took 36 in", DIAG_VALUE_FORM, 14, 25,
         "not what \"marked\" asks for"},
        {"needle = 2.75 mm", "unravelled 10 = 40 stitches took 19 in", DIAG_KEY_UNKNOWN, 14, 1,
         "more of them as \"unravelled 2\" up to \"unravelled 9\"."},
        {"50 g, 210 m", "50 g, 20001 m", DIAG_VALUE_RANGE, 33, 8, "more than 0, up to 20000 m"},
        {"50 g, 210 m", "20001 g, 210 m", DIAG_VALUE_RANGE, 33, 8, "more than 0, up to 20000 g"},
        {"50 g, 210 m", "50 g, 210 m\nhave = 20001 m", DIAG_VALUE_RANGE, 34, 8, "0 to 20000 m"},
        {"needle = 2.75 mm", "stitches 2 = 32", DIAG_KEY_UNKNOWN, 14, 1, "no key \"stitches 2\""},
        {"needle = 2.75 mm", "ball weighed = cream 48 g: 800 stitches", DIAG_VALUE_FORM, 14, 16,
         "asks for here"},
        {"needle = 2.75 mm", "ball weighed = 48 g to 44 g: 800 stitches", DIAG_VALUE_FORM, 14, 16,
         "asks for here"},
        {"needle = 2.75 mm", "ball weighed = cream 48 m to 44 g: 800 stitches", DIAG_VALUE_UNIT, 14,
         22, "\"48 m\" is a length"},
        {"needle = 2.75 mm", "ball weighed = cream 48 g to 44 g: 800 stitches, 900 in cream",
         DIAG_VALUE_FORM, 14, 57, "More stitches"},
        {"needle = 2.75 mm", "ball weighed = cream 48 g to 44 g: 800 stitches, 700 in slate",
         DIAG_VALUE_FORM, 14, 57, "stitches of another"},
        {"needle = 2.75 mm", "ball weighed = cream 48 g to 44 g: 800 stitches, 700 in",
         DIAG_VALUE_FORM, 14, 16, "missing behind"},
        {"needle = 2.75 mm", "scale = 0 g", DIAG_VALUE_RANGE, 14, 9, "too small"},
        {"[wearer]", "[buy]\nconfidence = 100 %\n[wearer]", DIAG_VALUE_RANGE, 52, 14, "99.9 %"},
    };

    for (size_t i = 0; i < sizeof amiss / sizeof amiss[0]; i++) {
        struct work work = fixture_work_with_tables();

        fixture_read(&work, fixture_spoilt(&work, amiss[i].from, amiss[i].to));
        fixture_assert_only(&work, &amiss[i]);
        fixture_end(&work);
    }
}

/* --- defaults and other ways to say it ---------------------------------------------- */

/* Units hold for the whole file, whatever the order of its sections. */
static void units_first(void)
{
    struct work work = fixture_work_with_tables();
    const struct project *project = fixture_read(
        &work, "[swatch]\nover = 10\nstitches = 30\nrows = 40\n[measure]\nwidth = 21,5\n"
               "[band a]\nchart = a, b c , d.png\nrepeats = 7\n[yarn cream]\nmark = .\n"
               "[project]\nworked = flat\nunits = cm\n");

    CU_ASSERT_EQUAL(seen_all(&work), 0);
    CU_ASSERT_TRUE(is_ratio(project->swatch.over.in, 500, 127));
    CU_ASSERT_TRUE(is_ratio(project->width.in, 2150, 254));
    CU_ASSERT_EQUAL(project->parts[0].ncharts, 3);
    CU_ASSERT_STRING_EQUAL(project->parts[0].chart[1].text, "b c");
    CU_ASSERT_EQUAL(project->parts[0].chart[1].at.column, 12);
    CU_ASSERT_EQUAL(project->parts[0].repeats.value, 7);
    CU_ASSERT_EQUAL(project->make.value, 1);
    CU_ASSERT_EQUAL(project->stagger.value, 2);
    CU_ASSERT_TRUE(project->spare_catches.value);
    CU_ASSERT_EQUAL(project->clear_ends.value, 1);
    CU_ASSERT_EQUAL(project->edges.value, EDGE_ANCHOR);
    CU_ASSERT_EQUAL(project->bind_off.value, BIND_OFF_STANDARD);
    CU_ASSERT_EQUAL(project->cast_on.yarn.index, 0);
    CU_ASSERT_PTR_NULL(project->cast_on.yarn.name);
    CU_ASSERT_TRUE(is_ratio(project->tail.in, 6, 1));
    CU_ASSERT_STRING_EQUAL(project->tail.allowance, "tail_in");
    CU_ASSERT_EQUAL(project->bind_off_yarn.index, -1);
    fixture_end(&work);
}

/* One line said otherwise, and what must come of it without a word. */
static const struct project *also(struct work *work, const char *from, const char *to)
{
    const struct project *project = fixture_read(work, fixture_spoilt(work, from, to));

    if (diagnostics_fatal(work->diagnostics))
        fprintf(stderr, "\n%s\n%s", to, fixture_printed(work, false));
    CU_ASSERT_FALSE(diagnostics_fatal(work->diagnostics));
    return project;
}

static void other_ways(void)
{
    struct work work = fixture_work_with_tables();
    const struct project *p;

    p = also(&work, "ease = 2 %", "ease = -1/4 in");
    CU_ASSERT_TRUE(!p->ease.is_ratio && is_ratio(p->ease.value, -1, 4));
    p = also(&work, "ease = 2 %", "ease = 0");
    CU_ASSERT_TRUE(is_ratio(p->ease.value, 0, 1));
    p = also(&work, "rib stitches = 72", "rib stitches = 90 %");
    CU_ASSERT_TRUE(p->cast_on.stitches_kind == RIB_RATIO &&
                   is_ratio(p->cast_on.ratio.ratio, 9, 10));
    p = also(&work, "rib stitches = 72", "rib stitches = Same");
    CU_ASSERT_EQUAL(p->cast_on.stitches_kind, RIB_SAME);
    p = also(&work, "knit 2 purl 2, 12 rounds", "k2, p1, 9 rows");
    CU_ASSERT_TRUE(p->cast_on.rib_purl == 1 && p->cast_on.rib_rounds == 9);
    p = also(&work, "kind = long tail", "kind = Provisional");
    CU_ASSERT_EQUAL(p->cast_on.kind.value, CAST_ON_PROVISIONAL);
    p = also(&work, "standard, cream", "none");
    CU_ASSERT_TRUE(p->bind_off.value == BIND_OFF_NONE && !p->bind_off_yarn.name);
    p = also(&work, "standard, cream", "cord, slate");
    CU_ASSERT_TRUE(p->bind_off.value == BIND_OFF_CORD && p->bind_off_yarn.index == 1);
    p = also(&work, "length = 5 in", "rows = 48\nstitches on needle = 72\nease = 0 %");
    CU_ASSERT_TRUE(p->parts[1].rounds.value == 48 && p->parts[1].on_needle.value == 72);
    p = also(&work, "length = 5 in", "stitches = 1850");
    CU_ASSERT_EQUAL(p->parts[1].stitches.value, 1850);
    p = also(&work, "1 round cream", "2 rows  cream");
    CU_ASSERT_TRUE(p->parts[0].before.rounds == 2 && p->parts[0].before.yarn.index == 0);
    p = also(&work, "repeats = fit", "repeats = 7\nupwards = 3\nacross = 24 stitches");
    CU_ASSERT_TRUE(p->parts[0].upwards.value == 3 && p->parts[0].across.value == 24);
    p = also(&work, "ball = 50 g, 210 m", "ball = 230 yd, 50 g");
    CU_ASSERT_TRUE(is_ratio(p->yarns[0].ball.mass_g, 50, 1));
    p = also(&work, "shade = #f3ead7", "shade = Ivory");
    CU_ASSERT_TRUE(p->yarns[0].rgb[0] == 255 && p->yarns[0].rgb[1] == 255 &&
                   p->yarns[0].rgb[2] == 240);
    p = also(&work, "mark = x", "mark = \xE2\x97\x8F");
    CU_ASSERT_STRING_EQUAL(p->yarns[1].mark.text, "\xE2\x97\x8F");
    p = also(&work, "title = Cuffs", "title = Cuffs\nno stitch = _");
    CU_ASSERT_STRING_EQUAL(p->no_stitch.text, "_");
    p = also(&work, "[wearer]\nchild = no", "[Wearer]\nCHILD = Yes");
    CU_ASSERT_TRUE(p->child.value);
    fixture_end(&work);
}

/* Each key of the list, with its own example, is accepted; so no example is wrong. */
static void every_example(void)
{
    for (int i = 0; i < key_facts_count(); i++) {
        const struct key_facts *key = key_facts_at(i);
        const struct section_facts *section = section_facts(key->section);
        struct work work = fixture_work_with_tables();

        fixture_read(&work,
                     arena_printf(work.arena, "[yarn cream]\n[yarn slate]\n[%s%s]\n%s = %s\n",
                                  section->head, section->named ? " more" : "", key->key,
                                  key->example));
        for (int k = 0, n = seen_all(&work); k < n; k++) {
            struct diag diag = fixture_diag(&work, k);
            bool fine = diag.code == DIAG_KEY_MISSING || diag.code == DIAG_SECTION_MISSING;

            CU_ASSERT_TRUE(fine);
            if (!fine)
                fprintf(stderr, "\n[%s] %s: %s\n", section->head, key->key, diag.what);
        }
        fixture_end(&work);
    }
    CU_ASSERT_TRUE(key_facts_count() > 50);
}

/* No measure is asked for where every band has its own, or its repeats. */
static void measure_not_needed(void)
{
    struct work work = fixture_work_with_tables();
    static const char *const sizes[] = {"repeats = 7", "around = 9 in", "repeats =", "repeats = 0",
                                        "repeats = FIT"};

    for (int i = 0; i < 5; i++) {
        fixture_read(&work, arena_printf(work.arena,
                                         "[swatch]\nover = 4 in\nstitches = 30\nrows = 40\n"
                                         "[band a]\nchart = a\n%s\n[yarn cream]\nmark = .\n"
                                         "[band b]\nchart = b\naround = 8 in\n",
                                         sizes[i]));
        CU_ASSERT_EQUAL(seen_count(&work, DIAG_VALUE_EMPTY), i >= 2);
        CU_ASSERT_EQUAL(seen_count(&work, DIAG_VALUE_RANGE), i >= 3);
        CU_ASSERT_EQUAL(seen_count(&work, DIAG_SECTION_MISSING), i == 4);
    }
    CU_ASSERT_PTR_NOT_NULL(seen_find(&work, DIAG_SECTION_MISSING, "around = 10 1/4 in"));
    fixture_end(&work);
}

/* --- hostile bytes ------------------------------------------------------------------ */

static unsigned next_random(unsigned *state)
{
    *state ^= *state << 13;
    *state ^= *state >> 17;
    *state ^= *state << 5;
    return *state;
}

/* Change a few bytes, cut or double a stretch. */
static char *mutated(struct work *work, const char *text, unsigned *state)
{
    static const char structure[] = "[]=;#\"'\\,:.%/| \t\n-0129aZ\x01\x7f\xC2\xA0\xFF\xE2";
    size_t length = strlen(text);
    char *out = arena_alloc(work->arena, 2 * length + 1, 1);

    memcpy(out, text, length);
    for (unsigned n = next_random(state) % 4; n > 0; n--) {
        size_t at = next_random(state) % length;

        out[at] = next_random(state) % 4 ? structure[next_random(state) % (sizeof structure - 1)]
                                         : (char)(1 + next_random(state) % 255);
    }
    if (next_random(state) % 3 == 0) {
        size_t from = next_random(state) % length;
        size_t cut =
            next_random(state) % 40 < length - from ? next_random(state) % (length - from) : 0;

        memmove(out + from, out + from + cut, length - from - cut + 1);
    } else if (next_random(state) % 3 == 0) {
        size_t from = next_random(state) % length;

        memcpy(out + length, out + from, length - from);
    }
    return out;
}

static void check_places(struct work *work, const struct source *source)
{
    int count;
    const struct diag *diag = diagnostics_sorted(work->diagnostics, &count);

    for (int i = 0; i < count; i++) {
        bool sane = diag[i].at.line >= 0 && diag[i].at.line <= source->nlines &&
                    (diag[i].at.line == 0 || diag[i].at.column >= 1) && diag[i].at.width >= 1 &&
                    diag[i].what && diag[i].what[0];

        if (!sane)
            CU_FAIL("a message without a place or words");
    }
}

static void hostile_bytes(void)
{
    enum { RUNS = 3000 };
    const char *const good[] = {whole, fixture_good};
    struct work tables = fixture_work_with_tables();
    unsigned state = 7331;
    int faulty = 0;

    for (int run = 0; run < RUNS; run++) {
        struct work work = fixture_work();
        const struct chart *const *charts =
            arena_alloc(work.arena, PROJECT_BANDS_MAX, sizeof *charts);
        const struct source *source;
        const struct project *project;

        work.tables = tables.tables;
        source = source_from_text(&work, "test.ini", mutated(&work, good[run % 2], &state));
        project = project_read_source(&work, source);
        CU_ASSERT_PTR_NOT_NULL_FATAL(project);
        check_project(&work, project, charts);
        check_places(&work, source);
        faulty += diagnostics_fatal(work.diagnostics);
        fixture_end(&work);
    }
    CU_ASSERT_TRUE(faulty > RUNS / 2);
    fixture_end(&tables);
}

extern CU_TestInfo tests_project[];
CU_TestInfo tests_project[] = {{"a whole file, to exact values", whole_file},
                               {"a stranded row unravelled", good_file},
                               {"yarn measured again and again", measured_again},
                               {"yarn measured amiss", measured_amiss},
                               {"units hold whatever the order, and defaults", units_first},
                               {"other ways to say it", other_ways},
                               {"the example of every key is accepted", every_example},
                               {"a measure is not always needed", measure_not_needed},
                               {"hostile bytes", hostile_bytes},
                               CU_TEST_INFO_NULL};
