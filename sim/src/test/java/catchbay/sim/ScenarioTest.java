package catchbay.sim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import catchbay.run.RunSetup;
import catchbay.run.SetupCheck;

import org.junit.jupiter.api.Test;

import java.util.List;
import java.util.Set;
import java.util.TreeSet;

final class ScenarioTest {

    @Test
    void everyDrawnSetupIsValid() {
        Set<String> kinds = new TreeSet<>();
        int big = 0;
        for (long seed = 1; seed <= 1000; seed++) {
            Scenario scenario = Scenario.drawn(seed);
            assertEquals(List.of(), SetupCheck.problems(scenario.setup()), "seed " + seed);
            RunSetup setup = scenario.setup();
            kinds.add(setup.plan().window().name());
            kinds.add(setup.plan().flowBy().name());
            kinds.add(setup.plan().measureBy().name());
            kinds.add(setup.reported().getClass().getSimpleName());
            kinds.add(setup.truck().control().name());
            kinds.add(setup.asked().application().getClass().getSimpleName());
            kinds.add(setup.truck().constant().form().name());
            kinds.add(setup.reference().isPresent() + " and " + setup.scale().isPresent());
            big += scenario.planned().usGallons() >= 5 ? 1 : 0;
        }
        assertEquals(2 + 3 + 2 + 3 + 2 + 2 + 3 + 3, kinds.size(), kinds.toString());
        assertTrue(big > 850, big + " of 1000 catches are planned for 5 US gal or more");
    }

    /** 15 gal/lane-mile at 20 mph for 90 s asks 7.5 gal (common practice, no source). */
    @Test
    void theOrdinaryCaseAsksForSevenAndAHalfGallons() {
        Scenario ordinary = Setups.ordinary(1);
        assertEquals(List.of(), SetupCheck.problems(ordinary.setup()));
        assertEquals(7.5, ordinary.planned().usGallons(), 1e-9);
    }

    @Test
    void aSeedDrawsTheSameBannerAgainAndAnotherSeedAnother() {
        Scenario first = Scenario.drawn(5);
        assertEquals(first.options().banner(), Scenario.drawn(5).options().banner());
        assertTrue(!first.options().banner().equals(Scenario.drawn(6).options().banner()));
        assertTrue(first.options().banner().startsWith("seed = 5\n"));
    }
}
