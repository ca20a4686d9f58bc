package catchbay.run;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.record.Fields;
import catchbay.record.SetupText;

import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import java.io.IOException;
import java.util.List;
import java.util.Optional;

/** Each pair that cannot be, made from a setup that fits by changing one value. */
final class SetupCheckTest {

    /** 15 US gal/lane-mile at 20 mph for 90 s asks 7.5 US gal: 5 US gal/min (common practice, no source). */
    private static final String FITTING = """
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
             "catch":{"seconds":90,"window":"flying","flow_by":"ground-speed","measure_by":"reference"}}""";

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
    @CsvSource(delimiter = '|', quoteCharacter = '`', value = {
        "\"source\":\"pulses\" | \"source\":\"display\" | reported.source is display, read at rest, but catch.window is flying",
        "\"diverter\":{\"feedback\":\"trigger\"}, | | catch.window is flying but no [diverter] is fitted;",
        ",\"pulses_per_mile\":40000 | | catch.flow_by is ground-speed but asked.pulses_per_mile is not given;",
        "\"constant_pulses_per_us_gal\":600 | \"constant_percent\":100 | reported.source is pulses but truck.constant_percent has no base,",
        "2026-01-15 | 2026-11-03 | reference: certificate of R-7 expired on 2026-11-02 and the run is on 2026-11-03;",
        "2026-01-15 | 2025-11-02 | scale: certificate of S-1 is dated 2025-11-03, after the run's day 2025-11-02;",
        "\"serial\":\"R-7\" | \"serial\":\"R-7\",\"rate_max_hertz\":400 | reference.rate_max_hertz of 400 is below the 500 pulses/s of the curve's highest point;",
        "\"serial\":\"R-7\" | \"serial\":\"R-7\",\"debounce_ms\":1 | reference: debounce of 1000 us is longer than a quarter of the shortest period",
        "\"asset\":\"T-12\" | \"asset\":\"T-12\",\"debounce_ms\":6 | truck: debounce of 6000 us is longer than a quarter of the shortest period",
        "\"speed_mph\":20 | \"speed_mph\":3 | the asked flow of 0.75 US gal/min lies outside the reference's certified 1 US gal/min to 30 US gal/min;",
        "\"lanes\":1 | \"lanes\":7 | the asked flow of 35 US gal/min lies outside the reference's certified 1 US gal/min to 30 US gal/min;",
        "\"rate_us_gal_per_lane_mile\":15 | \"rate_us_gal_per_lane_mile\":0 | the asked rate is 0,",
        "\"seconds\":90 | \"seconds\":1 | a catch of 1 s at 83.33 pulses/s gives 83 pulses of the reference meter, fewer than the 100 it takes;",
        "\"seconds\":90 | \"seconds\":1 | a catch of 1 s at 50 pulses/s gives 49 pulses of the truck meter, fewer than the 100 it takes;",
        "\"seconds\":90 | \"seconds\":5 | a catch of 5 s is shorter than twice the diverter's travel limit of 3 s;",
        "\"capacity_lb\":2000 | \"capacity_lb\":70 | a catch of 33.34 kg is over the scale's capacity of 31.75 kg;",
        "\"resolution_lb\":0.2 | \"resolution_lb\":1 | the scale's step of 0.4536 kg is more than the 1 % of a 33.34 kg catch",
        "\"resolution_lb\":0.2 | \"resolution_lb\":0.2,\"rest_band_lb\":0.1 | scale.rest_band of 0.04536 kg is less than the scale's resolution of 0.09072 kg,",
        "\"resolution_lb\":0.2 | \"resolution_lb\":0.2,\"rest_seconds\":60 | the scale must rest for 60 s but catch.rest_limit gives it only 60 s;",
        "\"seconds\":90 | \"seconds\":90,\"silence_ms\":100 | a silence of 0.1 s cannot tell rest from the lowest certified flow of 16.67 pulses/s;",
        "\"seconds\":90 | \"seconds\":90,\"silence_seconds\":60 | a silence of 60 s is awaited but catch.rest_limit allows only 60 s;",
        "\"seconds\":90 | \"seconds\":90,\"settle_slots\":1 | catch.settle_slots is 1,",
        "\"seconds\":90 | \"seconds\":90,\"settle_slots\":60 | 60 settle slots of 1 s take longer than catch.settle_limit of 60 s;",
        "\"source\":\"pulses\" | \"source\":\"line\",\"step_us_gal\":1 | the reported total's step of 1 US gal is more than a tenth of the 7.5 US gal asked;",
        "\"source\":\"pulses\" | \"source\":\"line\",\"fresh_seconds\":91 | totals up to 91 s apart cannot tell the amount of a catch of 90 s;",
        "\"rate_us_gal_per_lane_mile\":15 | \"rate_us_gal_per_ton\":10,\"salt_tons_per_mile\":1,\"salt_reported\":true | asked.salt_reported is true, read at rest,",
    })
    void anImpossiblePairIsNamed(String part, String instead, String sentence) {
        assertTrue(FITTING.contains(part), part);
        String changed = FITTING.replace(part, instead == null ? "" : instead);
        if (changed.contains("_per_ton")) {
            changed = changed.replace("\"lanes\":1,", "");
        }
        List<String> problems = problems(changed);
        assertTrue(problems.stream().anyMatch(problem -> problem.startsWith(sentence)), problems::toString);
        assertTrue(problems.stream().allMatch(problem -> problem.endsWith(".")), problems::toString);
    }

    @Test
    void whatMeasuresMustBeFitted() {
        String reference = FITTING.substring(FITTING.indexOf("\"reference\":{"), FITTING.indexOf("\"scale\":{"));
        String scale = FITTING.substring(FITTING.indexOf("\"scale\":{"), FITTING.indexOf("\"diverter\""));

        assertSays("catch.measure_by is reference but no [reference] is fitted;", FITTING.replace(reference, ""));
        assertSays(
                "catch.measure_by is scale but no [scale] is fitted;",
                FITTING.replace(scale, "").replace("\"measure_by\":\"reference\"", "\"measure_by\":\"scale\""));
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
        assertTrue(problems.stream().anyMatch(problem -> problem.startsWith(sentence)), problems::toString);
    }
}
