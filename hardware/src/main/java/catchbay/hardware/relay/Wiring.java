package catchbay.hardware.relay;

import catchbay.port.PortException;

import com.pi4j.Pi4J;
import com.pi4j.context.Context;
import com.pi4j.provider.Provider;

import java.util.function.Consumer;

/** Asks for lines through Pi4J. */
final class Wiring {

    private Wiring() {}

    /**
     * A context of these lines alone. It looks for no other providers, and leaves the end of the
     * program to us, since it would not wait for the run.
     *
     * @param provider who gives the lines
     * @param lines asks for them
     * @throws PortException when one of them is refused; all are let go then
     */
    static Context of(Provider<?, ?, ?> provider, Consumer<Context> lines) throws PortException {
        Context context =
                Pi4J.newContextBuilder()
                        .noAutoDetect()
                        .noAutoInject()
                        .disableShutdownHook()
                        .add(provider)
                        .build();
        try {
            lines.accept(context);
            return context;
        } catch (RuntimeException failure) {
            context.shutdown();
            // Pi4J wraps what its provider throws, twice.
            for (Throwable cause = failure; cause != null; cause = cause.getCause()) {
                if (cause instanceof PortException refusal) {
                    throw refusal;
                }
            }
            throw failure;
        }
    }
}
