#include "published.h"

#define HARPER "Harper Corporation of America, anilox tables (B)"

static void assert_band(const char *screen, double least_bcm, double most_bcm, double within)
{
	struct volume_band band = volume_band_of(screen_given(screen));
	assert_true(band.known);
	assert_published(volume_to_bcm(band.least), least_bcm, within, HARPER);
	assert_published(volume_to_bcm(band.most), most_bcm, within, HARPER);
}

static void volume_band_of__screens_of_the_table__its_volumes(void **state)
{
	(void)state;
	/* To the step of what is stored: as if the volume had been typed. */
	static const struct {
		const char *screen, *least, *most;
	} rows[] = {
		{"360lpi", "3.6bcm", "5bcm"},
		{"500lpi", "2.8bcm", "3.7bcm"},
		{"1000lpi", "1.1bcm", "1.4bcm"},
		{"141.732/cm", "3.6bcm", "5bcm"}, /* 360 lpi as it is shown in lines a cm */
	};
	for (size_t i = 0; i < COUNT_OF(rows); i++) {
		struct volume_band band = volume_band_of(screen_given(rows[i].screen));
		assert_true(band.known);
		assert_int_equal(volume_to_micro(band.least), volume_to_micro(volume_given(rows[i].least)));
		assert_int_equal(volume_to_micro(band.most), volume_to_micro(volume_given(rows[i].most)));
	}
}

static void volume_band_of__between_the_screens__drawn_out_log_log(void **state)
{
	(void)state;
	/* At the geometric mean of two screens stands that of their volumes: arithmetic. */
	assert_band("424.264069lpi", sqrt(3.6 * 2.8), sqrt(5.0 * 3.7), 1e-6);
	assert_band("707.106781lpi", sqrt(2.8 * 1.1), sqrt(3.7 * 1.4), 1e-6);
	/* 800 lpi: log(800/500)/log(1000/500) = 0.678072 of the way, by hand. */
	assert_band("800lpi", 2.8 * pow(1.1 / 2.8, 0.678072), 3.7 * pow(1.4 / 3.7, 0.678072), 1e-5);
}

static void volume_band_of__finer_screen__never_more_volume(void **state)
{
	(void)state;
	struct volume_band before = volume_band_of(screen_given("360lpi"));
	for (int lpi = 361; lpi <= 1000; lpi++) {
		struct volume_band band =
			volume_band_of(screen_from_per_cm(lpi / screen_to_lpi(screen_from_per_cm(1))));
		assert_true(band.known);
		assert_true(volume_to_micro(band.least) < volume_to_micro(before.least));
		assert_true(volume_to_micro(band.most) < volume_to_micro(before.most));
		assert_true(volume_to_micro(band.least) < volume_to_micro(band.most));
		before = band;
	}
}

static void volume_band_of__screens_outside__all_that_such_a_screen_is_used_for(void **state)
{
	(void)state;
	assert_band("180lpi", 4.0, 11.5, 1e-6); /* line and solid, opaque white */
	assert_band("200lpi", 3.5, 11.5, 1e-6); /* text and line too */
	assert_band("250lpi", 3.5, 11.5, 1e-6); /* the last of opaque white */
	assert_band("300lpi", 3.5, 8.0, 1e-6);  /* line and solid, text and line */
	assert_band("359lpi", 3.5, 7.5, 1e-6);  /* text and line alone */
	assert_band("1001lpi", 1.0, 3.2, 1e-6); /* process */
	assert_band("1200lpi", 1.0, 3.2, 1e-6); /* the last of process */
}

static void volume_band_of__screens_of_no_table__not_known(void **state)
{
	(void)state;
	assert_false(volume_band_of(screen_given("179lpi")).known);
	assert_false(volume_band_of(screen_given("1201lpi")).known);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(volume_band_of__screens_of_the_table__its_volumes),
		cmocka_unit_test(volume_band_of__between_the_screens__drawn_out_log_log),
		cmocka_unit_test(volume_band_of__finer_screen__never_more_volume),
		cmocka_unit_test(volume_band_of__screens_outside__all_that_such_a_screen_is_used_for),
		cmocka_unit_test(volume_band_of__screens_of_no_table__not_known),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
