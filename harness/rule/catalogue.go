package rule

// All is every rule, grouped as a reviewer reads them.
var All = []*Rule{
	// what is connected
	noWay, sectionsApart, noCavityLeft, cavityTwice, cavityUnknown, circuitsJoined, circuitApart, oneEnd, severalInCavity, postShared, notAPost, labelUnknown, coresShort, sectionUnknown, twoCavities,
	spliceAlone, cableApart, labelTwice, frozenLost, pinUnconnected, pinUnused, classUnused,
	// places
	runNowhere, panelCrossed, bushSmall, stringGap, leadShort, spliceBeyond, busStub,
	bendTooTight, hazardNear, edgeBare, moveTooShort, moveTied, waterCollects, waterLedIn,
	spliceCrowded, spliceMisplaced, barrelNone, spliceSleeve,
	// clips and the bare body
	clipSpanOver, endUnheld, bendUnheld, clipShut, offTube, clipSmall, screwNone, fixingShows, holesClose, holeAtEdge, connectorsCrowded, connectorMisfit, fastenerMisfit, offPanel, holeDiffers, panelNotFlat, holeAfterPaint,
	// how bundles are laid up
	layRatioOut, layThick, layShort,
	// conductors and contacts
	sizeUnknown, sizeBelowLeast, contactGauge, contactRating, housingRating, postRating, studCrowded, spareFew,
	// connectors
	crossMate, matesTurned, pairSplit, feedBesideSignal, earthShared, screenBothEnds, screenUnearthed, sealMisfit, cavityOpen, alikeWires,
	// the work on the bench: cutting
	reelShort,
	// order of assembly, sleeves, lugs
	orderImpossible, sleeveNone, stackOrder,
	boardTooSmall, wireShortForBoard,
	// volts and amps
	noCase, noSupply, supplyInNoCase, shorted, voltsAddUp, cannotFeed, overLimit, notRunning, cutOff, neverFed, fedBackward, noCurrent, relayAgainst, relayHunts, relayWeak, relayDrops, startBelowRun, startNoTime,
	batteryEmpties, parkedDrain, alternatorKeeps, readingOff,
	livePins,
	fuseRating, fuseInReturn, fuseBypassed, switchRating,
	// protection
	noFuse, starterUnfused, unfusedLong, startBlowsFuse, fuseGateUnknown, fuseOverWire, shortTooWeak, fusesOutOfOrder,
	dropOver, feedDropOver, returnDropOver, feedReturnDropOver, voltsHigh, voltsLow, belowLeast, startVoltsLow, startBelowLeast,
	// heat
	tooHot, partTooHot,
	// taking it out again
	notFree, undoForNothing, pulledLive, earthLostFirst, fedBackWhenUndone, tailTooShort,
}
