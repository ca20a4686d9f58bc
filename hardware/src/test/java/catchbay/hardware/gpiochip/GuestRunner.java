package catchbay.hardware.gpiochip;

import org.junit.platform.engine.TestExecutionResult;
import org.junit.platform.engine.discovery.DiscoverySelectors;
import org.junit.platform.launcher.LauncherDiscoveryRequest;
import org.junit.platform.launcher.TestExecutionListener;
import org.junit.platform.launcher.TestIdentifier;
import org.junit.platform.launcher.core.LauncherDiscoveryRequestBuilder;
import org.junit.platform.launcher.core.LauncherFactory;

/**
 * Runs proofs in the kernel guest: a line for each, and one at the end that says how many passed.
 */
final class GuestRunner implements TestExecutionListener {

    private int passed;
    private int ended;
    private long beganNanos;

    private GuestRunner() {}

    /**
     * @param names of classes, from the package of this module's on
     */
    public static void main(String[] names) {
        LauncherDiscoveryRequestBuilder request = LauncherDiscoveryRequestBuilder.request();
        for (String name : names) {
            request.selectors(DiscoverySelectors.selectClass("catchbay.hardware." + name));
        }
        GuestRunner runner = new GuestRunner();
        LauncherDiscoveryRequest built = request.build();
        LauncherFactory.create().execute(built, runner);
        System.out.println("guest: " + runner.passed + " of " + runner.ended + " proofs passed");
    }

    @Override
    public void executionStarted(TestIdentifier test) {
        beganNanos = System.nanoTime();
    }

    @Override
    public void executionSkipped(TestIdentifier test, String reason) {
        ended++;
        System.out.println("proof skipped: " + test.getDisplayName());
    }

    @Override
    public void executionFinished(TestIdentifier test, TestExecutionResult result) {
        boolean good = result.getStatus() == TestExecutionResult.Status.SUCCESSFUL;
        if (!test.isTest() && good) {
            return;
        }
        ended++;
        passed += good ? 1 : 0;
        long millis = (System.nanoTime() - beganNanos) / 1_000_000;
        System.out.println(
                "proof "
                        + (good ? "passed" : "FAILED")
                        + ": "
                        + test.getDisplayName()
                        + ", "
                        + millis
                        + " ms");
        result.getThrowable().ifPresent(thrown -> thrown.printStackTrace(System.out));
    }
}
