/* The shop's own limits: what is taken, how it is kept, what is refused. */
#include "shop.h"

static struct setting_state state_after;

static enum outcome set(struct shop *shop, const char *key, const char *value)
{
	fault_clear(&shop->fault);
	return room_set(shop->store, shop->arena, key, value, &shop->actor, &state_after, &shop->fault);
}

static struct limits limits_of(struct shop *shop)
{
	struct limits limits;
	assert_int_equal(store_limits(shop->store, &limits, NULL), OUTCOME_DONE);
	return limits;
}

/* The defaults of the check: common practice, no source, but where settings name one. */
static void room_set__nothing_set__the_defaults_hold(void **state)
{
	struct shop *shop = *state;
	struct limits limits = limits_of(shop);
	assert_int_equal(length_to_nm(limits.buildup), 25000);
	assert_int_equal(length_to_nm(limits.spread), 50000);
	assert_int_equal(length_to_nm(limits.runout), 12700);
	assert_int_equal(length_to_nm(limits.repeat_match), 10000);
	assert_int_equal(length_to_nm(limits.blade_length_match), 10000000);
	assert_int_equal(length_to_nm(limits.die_match), 50000);
	assert_int_equal(length_to_nm(limits.liner_match), 2000);
	for (size_t i = 0; i < setting_count; i++) {
		assert_true(*settings[i].meaning != '\0');
	}
}

static void room_set__limit__in_force_and_kept_with_who_and_when(void **state)
{
	struct shop *shop = *state;
	assert_int_equal(set(shop, "buildup", "0.001in"), OUTCOME_DONE);
	assert_string_equal(state_after.value, "0.0254mm");
	assert_int_equal(moment_compare(state_after.set_at, shop->actor.now), 0);
	assert_int_equal(length_to_nm(limits_of(shop).buildup), 25400);
	assert_int_equal(set(shop, "life_over", "SHORT"), OUTCOME_DONE);
	assert_string_equal(state_after.value, "short");
	assert_int_equal(limits_of(shop).life_over, LIFE_OVER_SHORT);
	assert_int_equal(set(shop, "overs", "0%"), OUTCOME_DONE);
	assert_int_equal(set(shop, "turnaround", "90min"), OUTCOME_DONE);
	assert_int_equal(set(shop, "screen_ratio", "4.5"), OUTCOME_DONE);
	assert_true(limits_of(shop).screen_ratio == 4.5);
}

static void room_set__open_hours__in_force(void **state)
{
	struct shop *shop = *state;
	assert_false(limits_of(shop).calendar.limited);
	assert_string_equal(duration_text(limits_of(shop).make_ready).bytes, "45min");
	assert_int_equal(set(shop, "closed", "2026-12-24..2026-12-26"), OUTCOME_DONE);
	assert_int_equal(limits_of(shop).calendar.closed_count, 1);
	assert_int_equal(limits_of(shop).calendar.shift_count[6], 1);
	assert_int_equal(set(shop, "shifts", " mon-fri 06:00-22:00 "), OUTCOME_DONE);
	assert_string_equal(state_after.value, "mon-fri 06:00-22:00");
	assert_int_equal(set(shop, "make_ready", "30min"), OUTCOME_DONE);
	struct limits limits = limits_of(shop);
	assert_true(limits.calendar.limited);
	assert_int_equal(limits.calendar.closed_count, 1);
	assert_int_equal(limits.calendar.shift_count[6], 0);
	assert_string_equal(duration_text(limits.make_ready).bytes, "30min");
	assert_int_equal(set(shop, "shifts", "default"), OUTCOME_DONE);
	assert_int_equal(set(shop, "closed", "None"), OUTCOME_DONE);
	assert_false(limits_of(shop).calendar.limited);
}

static const struct {
	const char *key, *value, *sentence, *hint;
} refused[] = {
	{"bildup", "1mm", "setting not known: bildup", "Is buildup meant? Type set for all of them."},
	{"colour", "blue", "setting not known: colour", "Type set for all of them."},
	{"buildup", "0.03", "buildup without a unit: 0.03", "Type 0.03mm or 0.03in."},
	{"buildup", " ", "value of buildup is blank",
     "Type set buildup default for the default, 0.025mm."},
	{"buildup", "-1mm", "buildup is less than nothing: -1mm",
     "Type a length such as 330mm, 13in or 1/8in."},
	{"overs", "-1%", "overs is less than nothing: -1%",
     "Type a value from 0% to 100%, or set overs default for the default, 5%."},
	{"screen_ratio", "-1", "screen_ratio is less than nothing: -1",
     "Type a value from 1 to 20, or set screen_ratio default for the default, 4."},
	{"life_over", "long", "life_over not known: long", "Type caution or short."},
	{"make_ready", "45", "make_ready without a unit: 45", "Type 45h or 45d."},
	{"make_ready", "45h", "make_ready is at most 24h: 45h",
     "Type a value from 0min to 24h, or set make_ready default for the default, 45min."},
	{"shifts", "none", "shifts leave no open hour: none",
     "Type shifts such as \"mon-fri 06:00-22:00, sat 06:00-14:00\", or always for a shop that never"
     " closes."},
	{"closed", "2027-01-01..2026-12-24",
     "closed days end before they begin: 2027-01-01..2026-12-24",
     "Type the earlier day first, then two points, then the later."},
	{"company_prefix", "12", "company_prefix cannot be that: 12",
     "Type the 4 to 12 digits of it, or none."},
};

static void room_set__what_does_not_hold__refused_and_nothing_changed(void **state)
{
	struct shop *shop = *state;
	bool empty = false;
	for (size_t i = 0; i < COUNT_OF(refused); i++) {
		assert_int_equal(set(shop, refused[i].key, refused[i].value), OUTCOME_BAD);
		shop_faults(shop, OUTCOME_BAD, refused[i].sentence, refused[i].hint);
	}
	assert_int_equal(length_to_nm(limits_of(shop).buildup), 25000);
	assert_int_equal(store_is_empty(shop->store, &empty, NULL), OUTCOME_DONE);
	assert_true(empty);
}

static void room_set__what_it_is_already__said_and_not_written(void **state)
{
	struct shop *shop = *state;
	assert_int_equal(set(shop, "buildup", "0.025mm"), OUTCOME_DONE);
	assert_true(state_after.same);
	assert_null(state_after.set_by);
	assert_int_equal(set(shop, "buildup", "default"), OUTCOME_DONE);
	assert_true(state_after.same);
	bool empty = false;
	assert_int_equal(store_is_empty(shop->store, &empty, NULL), OUTCOME_DONE);
	assert_true(empty);
	assert_int_equal(set(shop, "buildup", "0.03mm"), OUTCOME_DONE);
	assert_false(state_after.same);
	assert_int_equal(set(shop, "buildup", "0.030 MM"), OUTCOME_DONE);
	assert_true(state_after.same);
}

static void room_set__default__back_and_set_by_nobody(void **state)
{
	struct shop *shop = *state;
	assert_int_equal(set(shop, "currency", "CHF"), OUTCOME_DONE);
	assert_int_equal(set(shop, "currency", "Default"), OUTCOME_DONE);
	assert_string_equal(state_after.value, "EUR");
	assert_null(state_after.set_by);
	assert_false(state_after.same);
	assert_int_equal(set(shop, "buildup", "1mm"), OUTCOME_DONE);
	assert_int_equal(set(shop, "buildup", "default"), OUTCOME_DONE);
	assert_int_equal(length_to_nm(limits_of(shop).buildup), 25000);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		SHOP_TEST(room_set__nothing_set__the_defaults_hold),
		SHOP_TEST(room_set__limit__in_force_and_kept_with_who_and_when),
		SHOP_TEST(room_set__open_hours__in_force),
		SHOP_TEST(room_set__what_does_not_hold__refused_and_nothing_changed),
		SHOP_TEST(room_set__what_it_is_already__said_and_not_written),
		SHOP_TEST(room_set__default__back_and_set_by_nobody),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
