package catchbay.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.metrology.TruckConstant;
import catchbay.quantity.Density;
import catchbay.quantity.LiquidPerLane;
import catchbay.quantity.SaltPerDistance;
import catchbay.quantity.Speed;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.RunSetup;
import catchbay.run.SetupCheck;
import catchbay.seeded.Seeds;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;
import org.junit.jupiter.params.provider.CsvSource;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

final class SetupTextTest {

    private static final ObjectMapper JSON = new ObjectMapper();

    /** The least that can be said of a catch. */
    private static final String LEAST =
            """
            {"bay":{"day":"2026-01-15"},
             "reference":{"serial":"R-7","date":"2025-11-03","expiry":"2026-11-02","points":[
               {"flow_us_gal_per_min":1,"pulses_per_us_gal":1000},
               {"flow_us_gal_per_min":30,"pulses_per_us_gal":1004}]},
             "truck":{"asset":"T-12","constant_pulses_per_us_gal":600},
             "asked":{"rate_us_gal_per_lane_mile":15,"lanes":1,"speed_mph":20},
             "catch":{"seconds":90}}\
            """;

    private static RunSetup read(String json) {
        Fields fields = Fields.of(node(json), path -> "bay.toml");
        RunSetup setup = SetupText.read(fields, Optional.empty());
        fields.finish();
        return setup;
    }

    private static JsonNode node(String json) {
        try {
            return JSON.readTree(json);
        } catch (IOException unreadable) {
            throw new AssertionError(unreadable);
        }
    }

    private static String refusal(String json) {
        return assertThrows(DocumentException.class, () -> read(json)).getMessage();
    }

    @Test
    void whatIsWrittenReadsBackEqual() {
        Seeds.forSeeds(
                2_000,
                random -> {
                    RunSetup setup = new SampleSetups(random).draw();
                    String written = JSON.writeValueAsString(SetupText.write(setup));
                    assertEquals(setup, read(written));
                    assertEquals(written, JSON.writeValueAsString(SetupText.write(read(written))));
                });
    }

    @Test
    void theLeastSetupIsCompleteAndFits() {
        RunSetup setup = read(LEAST);

        assertEquals(List.of(), SetupCheck.problems(setup));
        assertEquals(RunSetup.Window.STANDING, setup.plan().window());
        assertEquals(RunSetup.FlowBy.OPERATOR, setup.plan().flowBy());
        assertEquals(90_000_000_000L, setup.plan().catchNanos());
        assertEquals(
                0.005, setup.reference().orElseThrow().certificate().relativeExpandedUncertainty());
        assertEquals(
                new RunSetup.Reported.Display(
                        Volume.ofUsGallons(0.1), 2_000_000_000L, new catchbay.quantity.Ratio(0.2)),
                setup.reported());
    }

    @Test
    void aDiverterMakesTheWindowFlying() {
        RunSetup setup =
                read(
                        LEAST.replace(
                                "\"truck\":",
                                "\"diverter\":{\"feedback\":\"trigger\"},\"truck\":"));

        assertEquals(RunSetup.Window.FLYING, setup.plan().window());
        assertEquals(new RunSetup.Reported.MeterPulses(), setup.reported());
        assertEquals(List.of(), SetupCheck.problems(setup));
    }

    /**
     * Exact definitions of the units: NIST SP 811, Appendix B; 231 cubic inches to the US gallon.
     */
    @Test
    void everyUnitOfAQuantityIsRead() {
        RunSetup us = read(LEAST);
        RunSetup si =
                read(
                        LEAST.replace(
                                        "\"rate_us_gal_per_lane_mile\":15",
                                        "\"rate_litres_per_lane_km\":35.28")
                                .replace("\"speed_mph\":20", "\"speed_km_per_h\":32.18688"));

        assertEquals(
                us.asked().speed().metresPerSecond(), si.asked().speed().metresPerSecond(), 1e-12);
        // 1 US gal/lane-mile = 2.3521458 L/lane-km, from the exact units.
        RunSetup.Application.Direct direct = (RunSetup.Application.Direct) us.asked().application();
        assertEquals(15 * 2.3521458, direct.rate().litresPerLaneKilometre(), 1e-6);
        assertEquals(
                new LiquidPerLane(35.28),
                ((RunSetup.Application.Direct) si.asked().application()).rate());
    }

    @Test
    void saltPerLaneNeedsItsLanes() {
        String preWet =
                LEAST.replace(
                        "\"rate_us_gal_per_lane_mile\":15,\"lanes\":1",
                        "\"rate_us_gal_per_ton\":10,\"salt_lb_per_lane_mile\":400,\"lanes\":2");
        RunSetup.Application.PreWet application =
                (RunSetup.Application.PreWet) read(preWet).asked().application();

        assertEquals(SaltPerDistance.ofPoundsPerLaneMile(400, 2), application.salt());
        assertEquals(
                "bay.toml: asked.salt_lb_per_lane_mile = 400: salt per lane needs the number of "
                        + "lanes; add lanes",
                refusal(preWet.replace(",\"lanes\":2", "")));
    }

    @ParameterizedTest
    @CsvSource({
        "constant_pulses_per_us_gal, PULSES_PER_VOLUME, US_GALLON",
        "constant_pulses_per_imperial_gal, PULSES_PER_VOLUME, IMPERIAL_GALLON",
        "constant_pulses_per_litre, PULSES_PER_VOLUME, LITRE",
        "constant_us_gal_per_pulse, VOLUME_PER_PULSE, US_GALLON",
        "constant_imperial_gal_per_pulse, VOLUME_PER_PULSE, IMPERIAL_GALLON",
        "constant_litres_per_pulse, VOLUME_PER_PULSE, LITRE",
        "constant_percent, PERCENT_OF_READING, US_GALLON",
    })
    void theEndingOfAConstantSaysWhatItMeans(String key, TruckConstant.Form form, VolumeUnit unit) {
        TruckConstant constant =
                read(LEAST.replace(
                                "\"constant_pulses_per_us_gal\":600",
                                "\"" + key + "\":75,\"least\":50,\"most\":600"))
                        .truck()
                        .constant();

        assertEquals(form, constant.form());
        assertEquals(unit, constant.unit());
        assertEquals(75, constant.value());
    }

    @Test
    void densityAndUnitOfAScaleAreNeverGuessed() {
        String scale =
                """
                "scale":{"serial":"S-1","date":"2025-11-03","expiry":"2026-11-02","unit":"lb",
                "resolution_lb":0.1,"capacity_lb":2000},"liquid":{"density_lb_per_us_gal":9.8},"truck":\
                """;
        String weighed = LEAST.replace("\"truck\":", scale);

        assertEquals(Density.ofPoundsPerUsGallon(9.8), read(weighed).liquid().density());
        assertEquals(
                "bay.toml: liquid.density_kg_per_m3 is missing; add it as a number, or in "
                        + "another unit as "
                        + "density_lb_per_us_gal",
                refusal(weighed.replace("\"density_lb_per_us_gal\":9.8", "")));
        assertEquals(
                "bay.toml: scale.unit is missing; add it",
                refusal(weighed.replace("\"unit\":\"lb\",", "")));
        // Pounds per gallon entered as kilograms per cubic metre.
        assertEquals(
                "bay.toml: liquid.density_kg_per_m3 = 9.8: it must be from 500 to 2500 kg/m3",
                refusal(weighed.replace("density_lb_per_us_gal", "density_kg_per_m3")));
    }

    /** Nothing is known without doubt; what cannot happen in a bay may be nothing. */
    @Test
    void noUncertaintyIsNothing() {
        String share = " = 0: it must be above 0 %, to 100 %";
        assertEquals(
                "bay.toml: reference.uncertainty_percent" + share,
                refusal(
                        LEAST.replace(
                                "\"reference\":{", "\"reference\":{\"uncertainty_percent\":0,")));
        for (String key : List.of("run_percent", "day_percent")) {
            assertEquals(
                    "bay.toml: scatter." + key + share,
                    refusal(
                            LEAST.replace(
                                    "\"reference\":{",
                                    "\"scatter\":{\"" + key + "\":0},\"reference\":{")));
        }
        assertEquals(
                "bay.toml: temperature.uncertainty_kelvin = 0: an uncertainty must be above 0;"
                        + " state it, or leave the key out",
                refusal(
                        LEAST.replace(
                                "\"reference\":{",
                                "\"temperature\":{\"uncertainty_kelvin\":0},\"reference\":{")));
        assertEquals(
                0,
                read(LEAST.replace("\"reference\":{", "\"reference\":{\"yearly_drift_percent\":0,"))
                        .doubts()
                        .reference()
                        .driftPerYear()
                        .value());
    }

    @Test
    void durationsAreExact() {
        assertEquals(
                100_000_000L,
                read(LEAST.replace("\"seconds\":90", "\"seconds\":0.1")).plan().catchNanos());
        assertEquals(
                1_234_567_891L,
                read(LEAST.replace("\"seconds\":90", "\"seconds\":1.234567891"))
                        .plan()
                        .catchNanos());
        assertEquals(
                90_000_000_000L,
                read(LEAST.replace("\"seconds\":90", "\"minutes\":1.5")).plan().catchNanos());
        assertEquals(
                "bay.toml: catch.seconds = 1e-10: it is finer than the billionth of a second that"
                        + " is counted; give fewer decimals",
                refusal(LEAST.replace("\"seconds\":90", "\"seconds\":0.0000000001")));
        assertEquals(
                "bay.toml: catch.seconds = 1e300: no time of a bay is so long; give it in seconds,"
                        + " and shorter",
                refusal(LEAST.replace("\"seconds\":90", "\"seconds\":1.0e300")));
    }

    @Test
    void theDayMayComeFromOutsideButIsNeverGuessed() {
        String noDay = LEAST.replace("\"bay\":{\"day\":\"2026-01-15\"},", "");
        LocalDate day = LocalDate.of(2026, 2, 1);

        assertEquals(
                day, SetupText.read(Fields.of(node(noDay), path -> ""), Optional.of(day)).day());
        assertEquals(
                "bay.toml: bay.day is missing; add it as a day such as 2026-01-31", refusal(noDay));
    }

    @ParameterizedTest
    @CsvFileSource(
            resources = "/catchbay/record/bad-setups.txt",
            delimiter = '|',
            quoteCharacter = '`')
    void aRefusalSaysWhereWhatAndWhatToDo(String part, String instead, String sentence) {
        assertTrue(LEAST.contains(part), part);
        String refusal = refusal(LEAST.replace(part, instead));
        assertTrue(refusal.startsWith("bay.toml: " + sentence), refusal);
    }

    @Test
    void aCurveOfOnePointIsRefused() {
        String one =
                LEAST.replaceAll(
                        "\\},\\s*\\{\"flow_us_gal_per_min\":30,\"pulses_per_us_gal\":1004", "");
        assertEquals(
                "bay.toml: reference: a reference curve needs at least two points, has 1; "
                        + "enter all points of the certificate",
                refusal(one));
    }

    /** OIML R 111-1:2004, E.3 at 1000 hPa, 50 %, 20 degrees Celsius: 1.18354 kg/m3. */
    @Test
    void theAirIsFoundFromItsState() {
        String found =
                LEAST.replaceFirst(
                        "\\{",
                        "{\"air\":{\"pressure_hpa\":1000,\"humidity_percent\":50,"
                                + "\"temperature_celsius\":20},");
        assertEquals(1.18354, read(found).liquid().air().kilogramsPerCubicMetre(), 0.5e-5);
        assertEquals(
                "bay.toml: air: pressure of the air must be from 600 to 1100 hPa, as it is, not at"
                        + " sea level, was 101.3",
                refusal(found.replace("1000", "101.3")));
    }

    @Test
    void whatNoTextCouldGiveIsNotWritten() {
        RunSetup setup = read(LEAST);
        RunSetup.Asked standstill =
                new RunSetup.Asked(setup.asked().application(), new Speed(0), Optional.empty());
        RunSetup unreadable =
                new RunSetup(
                        setup.bay(),
                        setup.day(),
                        setup.reference(),
                        setup.scale(),
                        setup.diverter(),
                        setup.liquid(),
                        setup.truck(),
                        standstill,
                        setup.reported(),
                        setup.plan(),
                        setup.doubts(),
                        setup.judgement(),
                        setup.session(),
                        setup.repeats());

        assertThrows(IllegalArgumentException.class, () -> SetupText.write(unreadable));
    }

    /** The table of keys cannot fall behind the code: every key that is written stands in it. */
    @Test
    void everyKeyIsDocumented() throws IOException {
        String manual = Files.readString(Path.of("../src/docs/settings.md"));
        Set<String> keys = new TreeSet<>();
        Seeds.forSeeds(
                200, random -> collect(SetupText.write(new SampleSetups(random).draw()), keys));

        assertTrue(keys.size() > 60, keys::toString);
        for (String key : keys) {
            String stem =
                    key.replaceAll(
                            "_(ratio|seconds|us|kg|litres|kg_per_m3|metres_per_second|litres_per_second"
                                + "|celsius|litres_per_lane_km|litres_per_tonne|kg_per_km|kg_per_pulse"
                                + "|pulses_per_litre|kpa)$",
                            "");
            assertTrue(
                    manual.contains("`" + key + "`") || manual.contains("`" + stem + "_…`"),
                    key + " is missing in settings.md");
        }
    }

    private static void collect(JsonNode node, Set<String> keys) {
        node.properties().forEach(entry -> keys.add(entry.getKey()));
        node.forEach(child -> collect(child, keys));
    }
}
