package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.record.Fields;
import catchbay.record.SetupText;

import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;

import java.io.IOException;
import java.util.List;
import java.util.Optional;

/** Each pair that cannot be, made from a setup that fits by changing one value. */
final class SetupCheckTest {

    /**
     * 15 US gal/lane-mile at 20 mph for 90 s asks 7.5 US gal: 5 US gal/min (common practice, no
     * source).
     */
    private static final String FITTING =
            """
            {"bay":{"day":"2026-01-15"},
             "reference":{"serial":"R-7","date":"2025-11-03","expiry":"2026-11-02","points":[
               {"flow_us_gal_per_min":1,"pulses_per_us_gal":1000},
               {"flow_us_gal_per_min":30,"pulses_per_us_gal":1000}]},
             "scale":{"serial":"S-1","date":"2025-11-03","expiry":"2026-11-02","unit":"lb",
               "resolution_lb":0.2,"capacity_lb":2000},
             "diverter":{"feedback":"trigger"},
             "liquid":{"density_lb_per_us_gal":9.8},
             "truck":{"asset":"T-12","constant_pulses_per_us_gal":600},
             "asked":{"rate_us_gal_per_lane_mile":15,"lanes":1,"speed_mph":20,"pulses_per_mile":40000},
             "reported":{"source":"pulses"},
             "catch":{"seconds":90,"window":"flying","flow_by":"ground-speed","measure_by":"reference"}}\
            """;

    private static List<String> problems(String json) {
        return SetupCheck.problems(setup(json));
    }

    private static RunSetup setup(String json) {
        try {
            Fields fields = Fields.of(new ObjectMapper().readTree(json), path -> "setup");
            RunSetup setup = SetupText.read(fields, Optional.empty());
            fields.finish();
            return setup;
        } catch (IOException unreadable) {
            throw new AssertionError(unreadable);
        }
    }

    @Test
    void aFittingSetupHasNoProblem() {
        assertEquals(List.of(), problems(FITTING));
    }

    @Test
    void theAskedFlowFollowsFromRateAndSpeed() {
        assertEquals(
                5.0,
                SetupCheck.askedFlow(setup(FITTING).asked())
                        .perMinute(catchbay.quantity.VolumeUnit.US_GALLON),
                1e-9);
    }

    @ParameterizedTest
    @CsvFileSource(
            resources = "/catchbay/run/impossible-pairs.txt",
            delimiter = '|',
            quoteCharacter = '`')
    void anImpossiblePairIsNamed(String part, String instead, String sentence) {
        assertTrue(FITTING.contains(part), part);
        String changed = FITTING.replace(part, instead == null ? "" : instead);
        if (changed.contains("_per_ton")) {
            changed = changed.replace("\"lanes\":1,", "");
        }
        List<String> problems = problems(changed);
        assertTrue(
                problems.stream().anyMatch(problem -> problem.startsWith(sentence)),
                problems::toString);
        assertTrue(
                problems.stream().allMatch(problem -> problem.endsWith(".")), problems::toString);
    }

    @Test
    void whatMeasuresMustBeFitted() {
        String reference =
                FITTING.substring(
                        FITTING.indexOf("\"reference\":{"), FITTING.indexOf("\"scale\":{"));
        String scale =
                FITTING.substring(FITTING.indexOf("\"scale\":{"), FITTING.indexOf("\"diverter\""));

        assertSays(
                "catch.measure_by is reference but no [reference] is fitted;",
                FITTING.replace(reference, ""));
        assertSays(
                "catch.measure_by is scale but no [scale] is fitted;",
                FITTING.replace(scale, "")
                        .replace("\"measure_by\":\"reference\"", "\"measure_by\":\"scale\""));
        assertSays(
                "neither [reference] nor [scale] is fitted,",
                FITTING.replace(reference, "").replace(scale, ""));
        assertSays(
                "catch.settle_slots is 5 but neither [reference] nor the truck's pulses are there",
                FITTING.replace(reference, "")
                        .replace("\"pulses\"", "\"line\"")
                        .replace("\"seconds\":90", "\"seconds\":90,\"settle_slots\":5"));
        assertSays(
                "a catch of 33.34 kg is fewer than 200 steps of the scale's 0.2268 kg;",
                FITTING.replace("\"measure_by\":\"reference\"", "\"measure_by\":\"scale\"")
                        .replace("\"resolution_lb\":0.2", "\"resolution_lb\":0.5"));
    }

    private static void assertSays(String sentence, String json) {
        List<String> problems = problems(json);
        assertTrue(
                problems.stream().anyMatch(problem -> problem.startsWith(sentence)),
                problems::toString);
    }

    private static final String LATE = FITTING.replace("2026-11-02", "2026-01-14");

    private static String with(String section, String more, String json) {
        return json.replaceFirst("\"" + section + "\":\\{", "\"" + section + "\":{" + more + ",");
    }

    private static String session(String json) {
        return json.substring(0, json.length() - 1)
                + ",\"session\":{\"by\":\"M. Example\",\"override\":\"it is booked for Friday\"}}";
    }

    /** A manager may use certificates out of date; he may not say so of those in date. */
    @Test
    void anOverrideIsForCertificatesOutOfDate() {
        assertEquals(2, problems(LATE).size(), problems(LATE).toString());
        assertEquals(List.of(), problems(session(LATE)));
        assertEquals(
                List.of(
                        "session.override is given, but every certificate is in date; leave it"
                                + " out."),
                problems(session(FITTING)));
    }

    @Test
    void aScaleIsWorthWhereItWasAdjusted() {
        String moved = problems(with("scale", "\"in_place\":false", FITTING)).getFirst();
        assertTrue(moved.contains("gravity differs"), moved);
        String warm =
                problems(with("scale", "\"span_per_kelvin_percent\":0.01", FITTING)).getFirst();
        assertTrue(warm.contains("add scale.calibrated and temperature.room"), warm);
        String small = problems(with("scale", "\"smallest_net_lb\":80", FITTING)).getFirst();
        assertTrue(small.contains("a catch of 33.34 kg is below the 36.29 kg"), small);
    }

    @Test
    void aReferenceIsWorthAtItsTemperatures() {
        String limited = with("reference", "\"coldest_celsius\":5", FITTING);
        String unknown = problems(limited).getFirst();
        assertTrue(unknown.contains("temperature.reference is not given"), unknown);
        String temperature =
                ",\"temperature\":{\"truck_meter_celsius\":3,\"reference_celsius\":%s}}";
        String open = limited.substring(0, limited.length() - 1);
        assertEquals(List.of(), problems(open + temperature.replace("%s", "5")));
        String cold = problems(open + temperature.replace("%s", "4.9")).getFirst();
        assertTrue(cold.startsWith("liquid of 4.9 degrees Celsius is outside"), cold);
    }
}
