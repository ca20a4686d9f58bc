package catchbay.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.plan.PlanForecast;
import catchbay.plan.Ways;
import catchbay.record.PlanText;
import catchbay.run.RangeEnd;
import catchbay.run.RunSetup;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;

/**
 * Each kind of work has one list, which says what matters for it, and says it once. What matters is
 * the shop's own wish, common practice, no source.
 */
final class CautionsTest {

    private static final RunSetup SETUP = PlayedBay.setup();

    private static final List<String> ANYWHERE =
            List.of(
                    "Eye protection and gloves",
                    "safety data sheet",
                    "The floor is wet",
                    "mains leads",
                    "Spill kit",
                    "brine is contained",
                    "The shop's own safety rules, local codes and licensed practice");

    private static final List<String> AT_A_TRUCK =
            List.of(
                    "parking brake is set and the wheels are chocked",
                    "Exhaust is led away, or the truck stands outdoors",
                    "Hoses and couplers are rated",
                    "Hydraulic oil and its lines are hot",
                    "conveyor, auger and spinner: they may turn",
                    "Nobody goes under a raised body");

    private static void says(List<String> list, List<String> parts) {
        String all = String.join("\n", list);
        for (String part : parts) {
            assertEquals(2, all.split(part, -1).length, () -> "once '" + part + "' in\n" + all);
        }
        assertEquals(list.size(), new HashSet<>(list).size(), all);
    }

    @Test
    void atATruckEverythingIsSaidOnce() {
        List<String> own = List.of("The hall's gate is open.");
        for (List<String> list :
                List.of(
                        Cautions.ofCatch(SETUP),
                        Cautions.ofSweep(SETUP, Optional.empty(), own),
                        Cautions.ofTestByTruck(SETUP, own),
                        Cautions.ofHunt(RangeEnd.LOW, SETUP, own),
                        Cautions.ofHunt(RangeEnd.HIGH, SETUP, own))) {
            says(list, ANYWHERE);
            says(list, AT_A_TRUCK);
        }
        says(Cautions.ofSweep(SETUP, Optional.empty(), own), own);
        says(Cautions.ofTestByTruck(SETUP, own), own);
        says(Cautions.ofHunt(RangeEnd.LOW, SETUP, own), own);
    }

    /** With what is written of a pre-wetting truck's granular side, each in TOML. */
    private static String preWet(String side) {
        PlanForecast forecast =
                PlanForecast.of(
                        PlanText.read(
                                TomlFile.of(
                                                "p.toml",
                                                """
                                                truck = "T-12"
                                                wanted_percent = 1
                                                points = [ { speed_mph = 20 } ]
                                                [application]
                                                rate_us_gal_per_ton = 30
                                                salt_tons_per_mile = 0.5
                                                [granular]
                                                on = true
                                                """
                                                        + side)
                                        .fields()),
                        Ways.of(SETUP));
        return String.join(
                "\n", Cautions.ofSweep(forecast.setup(), forecast.plan().granular(), List.of()));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "gate = \"open\"\nhopper = \"full\"",
                "gate = \"open 2 in\"",
                "hopper = \"not empty\"",
                "gate = \"half closed\""
            })
    void nobodyConfirmsAShutGateThatThePlanHasOpen(String side) {
        String list = preWet(side);
        for (String falsehood : List.of("gate is shut", "hopper is empty")) {
            assertFalse(list.contains(falsehood), list);
        }
        assertTrue(list.contains("Salt may come down at every catch: it is caught"), list);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "gate = \"Closed\"\nhopper = \"full\"",
                "gate = \"shut\"",
                "gate = \"open\"\nhopper = \"empty\""
            })
    void whereNothingComesDownWhatIsWrittenIsConfirmed(String side) {
        String list = preWet(side);
        assertFalse(list.contains("Salt may come down"), list);
        assertTrue(list.contains("stands as the plan writes it down: gate "), list);
    }

    @Test
    void whereNothingIsWrittenTheGateIsToBeShut() {
        assertTrue(preWet("").contains("its gate is shut or the hopper is empty"));
    }

    /** Whoever sets a speed at the controller gets the flow that the rate makes of it. */
    @ParameterizedTest
    @ValueSource(strings = {"ground-speed", "supply", "operator"})
    void theRateOfTheControllerIsConfirmedWhoeverSetsItsSpeed(String flowBy) {
        Settings settings = Settings.read(Path.of("../src/examples/full-bay.toml"));
        settings.override("--test", "catch.flow_by", flowBy);
        RunSetup setup = settings.setup(Optional.of("T-12"), LocalDate.of(2026, 2, 3));
        says(
                Cautions.ofSweep(setup, Optional.empty(), List.of()),
                List.of("The controller is set to 15 US gal a lane-mile over 1 lane"));
    }

    @Test
    void whereNoTruckIsNeededNothingIsSaidOfItsWheels() {
        String supply = String.join("\n", Cautions.ofTestBySupply());
        says(Cautions.ofTestBySupply(), ANYWHERE);
        for (String part : List.of("chock", "spinner", "raised body", "Exhaust")) {
            assertFalse(supply.contains(part), supply);
        }
    }

    @Test
    void aWatchForLeaksNeedsLiquidAndNoSpeed() {
        String leak = String.join("\n", Cautions.ofLeakWatch());
        says(Cautions.ofLeakWatch(), ANYWHERE);
        assertTrue(leak.contains("There is liquid in the catch tank"), leak);
        for (String part : List.of("has room", "spinner", "speed")) {
            assertFalse(leak.contains(part), leak);
        }
    }

    @Test
    void aCheckupSaysWhatMattersForIt() {
        says(Cautions.ofCheckup(), ANYWHERE);
    }
}
