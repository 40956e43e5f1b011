/** The library's table of contents: every public function, by subject. Figures and page parts are not in it; import them by their file. */

// The record: cells to records, records to the history of each piece

export * from "./book/addCounts.ts";
export * from "./book/alikePieces.ts";
export * from "./book/balance.ts";
export * from "./book/bookCounts.ts";
export * from "./book/byteNames.ts";
export * from "./book/cells.ts";
export * from "./book/columnCounts.ts";
export * from "./book/columnDocs.ts";
export * from "./book/columnReplay.ts";
export * from "./book/columnsOf.ts";
export * from "./book/countFiles.ts";
export * from "./book/dateDoubts.ts";
export * from "./book/dates.ts";
export * from "./book/day.ts";
export * from "./book/emptyBook.ts";
export * from "./book/emptySettings.ts";
export * from "./book/eventColumns.ts";
export * from "./book/evidence.ts";
export * from "./book/example.ts";
export * from "./book/faults.ts";
export * from "./book/field.ts";
export * from "./book/fold.ts";
export * from "./book/footers.ts";
export * from "./book/grid.ts";
export * from "./book/headings.ts";
export * from "./book/histories.ts";
export * from "./book/latheOffs.ts";
export * from "./book/lotCounts.ts";
export * from "./book/mended.ts";
export * from "./book/nearest.ts";
export * from "./book/parseBook.ts";
export * from "./book/plainTable.ts";
export * from "./book/problem.ts";
export * from "./book/quantity.ts";
export * from "./book/readAs.ts";
export * from "./book/readPlain.ts";
export * from "./book/readRecords.ts";
export * from "./book/records.ts";
export * from "./book/rowAccount.ts";
export * from "./book/schemas.ts";
export * from "./book/settings.ts";
export * from "./book/shafts.ts";
export * from "./book/sortedBy.ts";
export * from "./book/soundRows.ts";
export * from "./book/spellCounts.ts";
export * from "./book/spells.ts";
export * from "./book/squareColumns.ts";
export * from "./book/squareDensity.ts";
export * from "./book/textOrder.ts";
export * from "./book/unitJumps.ts";
export * from "./book/units.ts";

// What becomes of squares

export * from "./yield/costRank.ts";
export * from "./yield/finishChance.ts";
export * from "./yield/lotTable.ts";
export * from "./yield/shaftCost.ts";
export * from "./yield/sortingEffect.ts";
export * from "./yield/stageMass.ts";
export * from "./yield/stageYields.ts";
export * from "./yield/tripCost.ts";
export * from "./yield/visitValue.ts";
export * from "./yield/whereSquaresGo.ts";
export * from "./yield/woodYield.ts";
export * from "./yield/yieldsToTell.ts";

// What is thrown out, and for what

export * from "./defects/discardChart.ts";
export * from "./defects/discardRates.ts";
export * from "./defects/supplierDiscards.ts";

// How heavy, and how even

export * from "./density/compareSpread.ts";
export * from "./density/densityBySupplier.ts";
export * from "./density/densityDrift.ts";
export * from "./density/densityRange.ts";
export * from "./density/lotDensities.ts";
export * from "./density/spreadSources.ts";
export * from "./density/spreadSplit.ts";
export * from "./density/supplierDensities.ts";
export * from "./density/windowByMonth.ts";
export * from "./density/yardCard.ts";

// Resting

export * from "./seasoning/afterRest.ts";
export * from "./seasoning/compareRests.ts";
export * from "./seasoning/dryingTimes.ts";
export * from "./seasoning/hurriedRests.ts";
export * from "./seasoning/longerRest.ts";
export * from "./seasoning/moistureLosses.ts";
export * from "./seasoning/moistureNow.ts";
export * from "./seasoning/oversizeCheck.ts";
export * from "./seasoning/pieceMoisture.ts";
export * from "./seasoning/readyToTurn.ts";
export * from "./seasoning/restLosses.ts";
export * from "./seasoning/restMoisture.ts";
export * from "./seasoning/restSteps.ts";
export * from "./seasoning/smoothedCourse.ts";
export * from "./seasoning/steadiness.ts";
export * from "./seasoning/stockOnHand.ts";
export * from "./seasoning/storeAir.ts";
export * from "./seasoning/storeMoisture.ts";

// What to buy, of whom, by when

export * from "./buying/adviceOutcome.ts";
export * from "./buying/cashAhead.ts";
export * from "./buying/changedNeed.ts";
export * from "./buying/demandBackTest.ts";
export * from "./buying/demandByWindow.ts";
export * from "./buying/demandForecast.ts";
export * from "./buying/demandOverride.ts";
export * from "./buying/demandPosterior.ts";
export * from "./buying/demandRange.ts";
export * from "./buying/finishDays.ts";
export * from "./buying/leadTime.ts";
export * from "./buying/ordersByMonth.ts";
export * from "./buying/outcomes.ts";
export * from "./buying/planOutcome.ts";
export * from "./buying/purchasePlan.ts";
export * from "./buying/remembered.ts";
export * from "./buying/seasonPlan.ts";
export * from "./buying/stageDoubts.ts";
export * from "./buying/stageTimes.ts";
export * from "./buying/stockAhead.ts";
export * from "./buying/supply.ts";
export * from "./buying/usableShare.ts";
export * from "./buying/whatIf.ts";
export * from "./buying/whatItHangsOn.ts";
export * from "./buying/worthOfKnowing.ts";

// The rack: what is there, and what is counted

export * from "./rack/assignShafts.ts";
export * from "./rack/comingForOrder.ts";
export * from "./rack/competingOrders.ts";
export * from "./rack/countedRows.ts";
export * from "./rack/labelRows.ts";
export * from "./rack/openOrders.ts";
export * from "./rack/orderedTaper.ts";
export * from "./rack/pieceTaper.ts";
export * from "./rack/predictedShaft.ts";
export * from "./rack/proposedEvents.ts";
export * from "./rack/rankShafts.ts";
export * from "./rack/shaftFit.ts";
export * from "./rack/stiffness.ts";
export * from "./rack/stocktake.ts";
export * from "./rack/unservedOrders.ts";

// Wood: moisture and drying

export * from "./wood/constantMass.ts";
export * from "./wood/dryingTimeRatio.ts";
export * from "./wood/equilibriumHumidity.ts";
export * from "./wood/equilibriumMoisture.ts";
export * from "./wood/meterCorrection.ts";
export * from "./wood/moisture.ts";

// Wood: density

export * from "./wood/basicDensity.ts";
export * from "./wood/basicDensityFromAt12.ts";
export * from "./wood/density.ts";
export * from "./wood/densityAt12.ts";
export * from "./wood/densityAt12En384.ts";
export * from "./wood/densityAt12Iso13061.ts";
export * from "./wood/densityUncertainty.ts";
export * from "./wood/gravityAtMoisture.ts";
export * from "./wood/specificGravity.ts";

// Wood: shrinkage

export * from "./wood/changeInUse.ts";
export * from "./wood/ovality.ts";
export * from "./wood/shrinkage.ts";

// Wood: shape, stiffness and strength

export * from "./wood/clearWoodVariation.ts";
export * from "./wood/grainStrength.ts";
export * from "./wood/modulusFromDeflection.ts";
export * from "./wood/slopeOfGrain.ts";
export * from "./wood/strengthAtMoisture.ts";
export * from "./wood/taper.ts";

// Wood: species and units

export * from "./wood/species.ts";
export * from "./wood/speciesTable.ts";
export * from "./wood/units.ts";

// Statistics: describing

export * from "./stats/deviation.ts";
export * from "./stats/kernelDensity.ts";
export * from "./stats/lagOneAutocorrelation.ts";
export * from "./stats/mean.ts";
export * from "./stats/medianAbsoluteDeviation.ts";
export * from "./stats/numbers.ts";
export * from "./stats/quantile.ts";
export * from "./stats/sheatherJonesBandwidth.ts";

// Statistics: a share, and the shares of groups

export * from "./stats/betaBinomial.ts";
export * from "./stats/betaBinomialLikelihood.ts";
export * from "./stats/betaMoments.ts";
export * from "./stats/betaProduct.ts";
export * from "./stats/clopperPearson.ts";
export * from "./stats/groupRates.ts";
export * from "./stats/interval.ts";
export * from "./stats/jeffreys.ts";
export * from "./stats/normalQuantile.ts";
export * from "./stats/rolledYield.ts";
export * from "./stats/wilson.ts";

// Statistics: lots that differ

export * from "./stats/clusterDifferenceChance.ts";
export * from "./stats/clusterInterval.ts";
export * from "./stats/clusterJackknife.ts";
export * from "./stats/clusterTable.ts";
export * from "./stats/nestedVarianceComponents.ts";
export * from "./stats/varianceComponents.ts";
export * from "./stats/withinCorrelation.ts";

// Statistics: the time to an end

export * from "./stats/aalenJohansen.ts";
export * from "./stats/chainedIncidence.ts";
export * from "./stats/endingTimes.ts";
export * from "./stats/eventTable.ts";
export * from "./stats/kaplanMeier.ts";
export * from "./stats/kaplanMeierAt.ts";
export * from "./stats/kaplanMeierQuantile.ts";
export * from "./stats/logRank.ts";
export * from "./stats/nelsonAalen.ts";
export * from "./stats/restrictedMean.ts";
export * from "./stats/stateOccupation.ts";
export * from "./stats/weightedIncidence.ts";

// Statistics: comparing

export * from "./stats/bartlett.ts";
export * from "./stats/benjaminiHochberg.ts";
export * from "./stats/brownForsythe.ts";
export * from "./stats/chanceLowest.ts";
export * from "./stats/changePoint.ts";
export * from "./stats/chiSquareTest.ts";
export * from "./stats/differenceInterval.ts";
export * from "./stats/expectedGain.ts";
export * from "./stats/fisherExact.ts";
export * from "./stats/holm.ts";
export * from "./stats/mantelHaenszel.ts";
export * from "./stats/pChart.ts";
export * from "./stats/spreadPower.ts";
export * from "./stats/trialSize.ts";

// Statistics: how far single pieces lie apart

export * from "./stats/chanceWithin.ts";
export * from "./stats/noncentralT.ts";
export * from "./stats/predictiveShare.ts";
export * from "./stats/propagated.ts";
export * from "./stats/toleranceFactor.ts";

// Statistics: resampling

export * from "./stats/bcaInterval.ts";
export * from "./stats/bootstrapInterval.ts";
export * from "./stats/jackknifeAcceleration.ts";
export * from "./stats/percentileInterval.ts";
export * from "./stats/random.ts";

// Statistics: counts, and deciding by them

export * from "./stats/assign.ts";
export * from "./stats/convolve.ts";
export * from "./stats/countQuantile.ts";
export * from "./stats/leastSquares.ts";
export * from "./stats/momentSize.ts";
export * from "./stats/negativeBinomial.ts";
export * from "./stats/newsvendor.ts";
export * from "./stats/poissonBinomialPmf.ts";
export * from "./stats/poissonRegression.ts";
export * from "./stats/root.ts";
export * from "./stats/thin.ts";
